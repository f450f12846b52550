"""How well the listener tells speech from noise: misses, late ends and false starts, by noise and ratio.

python tests/bench/bench_listener.py RECORDINGS
RECORDINGS holds commands/WORD/*.flac (people speaking single words) and background/*.flac (rooms).
Detection alone is measured: the ear in it hears nothing and never ends an utterance early.
"""

import sys
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from runner.session.scripted.studio import SPEECH_RMS
from runner.voice.background import Background, get_active_rms, make_background
from runner.voice.listen.endpoint import PAUSES, Patience
from runner.voice.listen.listener import Listener
from runner.voice.listen.result import SpeechStarted, UtteranceHeard
from runner.voice.port import RATE, Block, Guess, Hearing, Samples
from runner.voice.sound import BLOCK_SAMPLES, get_blocks, read_sound, resample

WORDS = ("yes", "no", "on", "off", "left", "right", "up", "down", "one", "two", "six", "eight")
CLIPS_OF_EACH = 6
GAP_SECONDS = 3.0
LEAD_SECONDS = 6.0
"""The room before the first word: longer than the noise floor's window."""
NOISE_SECONDS = 300
RATIOS_DB = (20.0, 10.0, 5.0, 0.0)
ACTIVE_SHARE = 10.0**-2.5
"""A clip's word lies between its first and last block within 25 dB of the loudest."""
SLACK_SECONDS = 0.3
"""An utterance may begin so long before or after its word and still be its own."""


class NoEar:
    """Takes sound and hears nothing."""

    name = "none"

    def __init__(self) -> None:
        self._fed: list[Block] = []

    def missing_words(self, phrases: Sequence[str]) -> tuple[str, ...]:
        """None."""
        del phrases
        return ()

    def expect(self, phrases: Sequence[str]) -> None:
        """Nothing to prepare."""

    def feed(self, block: Block, silence_seconds: float = 0.0) -> Guess:
        """Never settled: every utterance waits for the full silence."""
        del silence_seconds
        self._fed.append(block)
        return Guess(None)

    def finish(self) -> Hearing:
        """An utterance of which nothing is known but its length."""
        fed, self._fed = self._fed, []
        return Hearing(None, 0.0, fed[0].started_at, fed[-1].ended_at, 0.0)


@dataclass(slots=True)
class Stream:
    """Words one after another, and where each begins and ends, in seconds."""

    samples: Samples
    words: list[tuple[float, float]] = field(default_factory=list)

    @property
    def seconds(self) -> float:
        """How long it lasts."""
        return len(self.samples) / RATE


@dataclass(slots=True)
class Found:
    """What the listener made of a stream: when it noticed speech, and when it decided it was over."""

    begun: list[float]
    over: list[float]


def main() -> None:
    """Write a line for each noise and ratio."""
    folder = Path(sys.argv[1])
    speech = make_stream(folder / "commands")
    generator = np.random.default_rng(11)
    count = max(len(speech.samples), NOISE_SECONDS * RATE)
    rooms = {f"{kind.value} (made)": make_background(kind, count, generator) for kind in Background}
    rooms |= {path.stem: get_room(path, count) for path in sorted((folder / "background").glob("*.flac"))}
    print(f"{len(speech.words)} words in {speech.seconds:.0f} s; {NOISE_SECONDS} s of noise alone")
    words, lateness = "missed joined split", "noticed ms  over ms median worst"
    print(f"{'noise':20} dB  {words}  {lateness}  false/min alone  cut at longest")
    for name, noise in rooms.items():
        for ratio in RATIOS_DB:
            gain = SPEECH_RMS * 10.0 ** (-ratio / 20.0)
            mixed = speech.samples + gain * noise[: len(speech.samples)]
            alone = listen(gain * noise[: NOISE_SECONDS * RATE])
            print(f"{name:20} {ratio:2.0f} {judge(speech, listen(mixed))} {judge_alone(alone)}")


def make_stream(folder: Path) -> Stream:
    """Every word by so many people, at the level of speech, with silence between."""
    pieces: list[Samples] = [np.zeros(round(LEAD_SECONDS * RATE), np.float32)]
    stream, at = Stream(pieces[0]), LEAD_SECONDS
    for number in range(CLIPS_OF_EACH):
        for word in WORDS:
            clip = get_word(sorted((folder / word).glob("*.flac"))[number])
            stream.words.append((at, at + len(clip) / RATE))
            pieces += [clip, np.zeros(round(GAP_SECONDS * RATE), np.float32)]
            at += len(clip) / RATE + GAP_SECONDS
    stream.samples = np.concatenate(pieces)
    return stream


def get_word(path: Path) -> Samples:
    """The word alone, without its own room around it, at the level of speech."""
    samples = resample(read_sound(path), RATE).samples
    powers = [float(np.mean(np.square(block.samples))) for block in get_blocks(samples, 0.0)]
    active = np.flatnonzero(np.array(powers) >= max(powers) * ACTIVE_SHARE)
    word = samples[active[0] * BLOCK_SAMPLES : (active[-1] + 1) * BLOCK_SAMPLES]
    return np.asarray(word * (SPEECH_RMS / get_active_rms(word)), np.float32)


def get_room(path: Path, count: int) -> Samples:
    """A recording of a room, repeated to the length, with an RMS of 1."""
    samples = resample(read_sound(path), RATE).samples
    return np.asarray(np.resize(samples / np.sqrt(np.mean(np.square(samples))), count), np.float32)


def listen(samples: Samples) -> Found:
    """Through a fresh listener, block by block."""
    listener, found = Listener(NoEar()), Found([], [])
    listener.expect(1, ["set"])
    for block in get_blocks(np.asarray(samples, np.float32), 0.0):
        for result in listener.hear(block):
            if isinstance(result, SpeechStarted):
                found.begun.append(result.at)
            elif isinstance(result, UtteranceHeard):
                found.over.append(result.decided_at)
    return found


def judge(stream: Stream, found: Found) -> str:
    """Words that no utterance holds, words in one begun by noise, words cut in two, and how late it was."""
    noticed, over, missed, joined, split = [], [], 0, 0, 0
    utterances = list(zip(found.begun, [*found.over, stream.seconds], strict=False))
    for begin, end in stream.words:
        own = [(at, until) for at, until in utterances if at <= end + SLACK_SECONDS and until >= begin]
        missed, split = missed + (not own), split + (len(own) > 1)
        if own and own[0][0] < begin - SLACK_SECONDS:
            joined += 1
        elif own:
            noticed.append(own[0][0] - begin)
        over += [own[-1][1] - end] if own else []
    middle, late = 1000.0 * float(np.median(noticed or [np.nan])), 1000.0 * np.array(over or [np.nan])
    counts = f"{missed:6d} {joined:6d} {split:6d}"
    return f"{counts} {middle:11.0f} {float(np.median(late)):14.0f} {float(late.max()):6.0f}"


def judge_alone(found: Found) -> str:
    """Utterances in noise that holds none, a minute, and how many of them never found their end."""
    longest = PAUSES[Patience.NORMAL].longest
    lengths = [over - begun for begun, over in zip(found.begun, found.over, strict=False)]
    hung = sum(length >= longest - 0.5 for length in lengths)
    return f"{len(found.begun) / (NOISE_SECONDS / 60.0):16.1f} {hung:14d}"


if __name__ == "__main__":
    main()
