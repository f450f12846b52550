"""How well ears hear, on speakers that neither training nor calibration heard.

`python -m tests.bench.ear.bench_ear --real R --synthetic S... [--engines builtin pocketsphinx]`.

Prints, for each engine on the same sound: right, refused and wrong answers, what was taken though it was
not in force, and compute, by set and noise; then false answers in an hour of talk and of noise. R is a folder
of recordings with index.tsv, S what models/train/synthesise.py spoke with the test voices. Only speakers and
voices that neither training nor calibration heard are used. Needs scipy beside eyesout's own dependencies.
"""

import argparse
import json
import sys
from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from runner.voice.builtin import BuiltinEar
from runner.voice.listener import Listener
from runner.voice.port import RATE, Block, Recogniser, Samples
from runner.voice.result import Heard
from runner.voice.vosk_ear import VoskEar
from tests.bench.ear.reference import MoonshineEar, SphinxEar
from tests.bench.ear.sound_set import Clip, Samples16, checks_in, long_sound, real_clips, spoken_clips
from tests.bench.ear.training import ROOT, augment, noise, sentence

BLOCK = 480
BABBLE = 3


def say(line: str) -> None:
    """One line of the report, at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


@dataclass(slots=True)
class Tally:
    """Counts of one engine on one set in one noise."""

    right: int = 0
    refused: int = 0
    wrong: int = 0
    compute_seconds: float = 0.0

    def row(self) -> list[str]:
        """As cells."""
        total = self.right + self.refused + self.wrong
        shares = [f"{100 * x / total:.2f}" for x in (self.right, self.refused, self.wrong)]
        return [str(total), *shares, f"{1000 * self.compute_seconds / total:.0f}"]


def weathered(clip: Clip, number: int, level: int | None, speech: list[Samples16]) -> Samples:
    """The clip with a quarter second of room before and after, in the noise that its number gives."""
    samples = np.pad(clip.samples.astype(np.float32) / 32768, (RATE // 4, RATE // 4))
    rng = np.random.default_rng((number, level or 99))
    if level is None:
        return np.asarray(samples + rng.standard_normal(len(samples)) * 1e-4, np.float32)
    kinds = (noise.engine, noise.propeller, noise.wind, lambda r, n: noise.babble(r, n, speech))
    heard = augment.mixed(samples, kinds[number % 4](rng, len(samples)), level)
    return np.asarray(heard / max(1.0, float(np.abs(heard).max())), np.float32)


def hear(ear: Recogniser, samples: Samples, clip: Clip, tally: Tally) -> float:
    """One clip whole, as at an endpoint; returns the confidence."""
    ear.expect(clip.phrases)
    ear.feed(Block(samples, 0.0))
    hearing = ear.finish()
    tally.compute_seconds += hearing.compute_seconds
    if hearing.text is None:
        tally.refused += 1
    elif hearing.text in clip.truth:
        tally.right += 1
    else:
        tally.wrong += 1
    return hearing.confidence


Table = dict[str, dict[str, list[str]]]


def bench_clips(ears: list[Recogniser], clips: list[Clip], levels: tuple[int | None, ...]) -> Table:
    """Every ear on every clip at every level."""
    speech = [clip.samples for clip in clips[::7]]
    table: Table = {}
    for ear in ears:
        tallies: dict[str, Tally] = defaultdict(Tally)
        for number, clip in enumerate(clips):
            for level in levels:
                sound = weathered(clip, number, level, speech)
                hear(ear, sound, clip, tallies[f"{clip.set_name}, {_noise_name(number, level)}"])
        table[ear.name] = {name: tally.row() for name, tally in tallies.items()}
        for name, row in sorted(table[ear.name].items()):
            say(f"{ear.name:13} {name:32} " + " ".join(f"{cell:>7}" for cell in row))
    return table


def _noise_name(number: int, level: int | None) -> str:
    if level is None:
        return "quiet"
    return f"{level} dB " + ("babble" if number % 4 == BABBLE else "noise")  # noise: engine, propeller, wind


def false_answers(ear: Recogniser, sound: Samples, phrases: tuple[str, ...]) -> tuple[int, float]:
    """Answers that the listener gives while this sound runs; and the hours that it lasts."""
    listener = Listener(ear)
    listener.expect(1, phrases)
    found = 0
    for first in range(0, len(sound) - BLOCK, BLOCK):
        for result in listener.hear(Block(sound[first : first + BLOCK], first / RATE)):
            found += isinstance(result, Heard) and result.hearing.text is not None
    return found, len(sound) / RATE / 3600


def long_runs(ears: list[Recogniser], real: Path, phrases: tuple[str, ...]) -> None:
    """Talk of the test speakers, none of it an answer; then noise of each kind."""
    talk = np.asarray(long_sound(real, ("requests", "reading", "words")) / 32768, np.float32)
    rng = np.random.default_rng(4)
    noises: dict[str, Callable[[], Samples]] = {
        "talk": lambda: talk,
        "engine, propeller, wind noise": lambda: np.concatenate([
            make(rng, 60 * RATE) * 0.05
            for make in (noise.engine, noise.propeller, noise.wind)
            for _ in range(20)
        ]).astype(np.float32),
    }  # fmt: skip
    for ear in ears:
        for name, make in noises.items():
            found, hours = false_answers(ear, make(), phrases)
            say(f"{ear.name:13} {name:32} {found} false answers in {hours:.2f} h")


def main() -> None:
    """Read the arguments and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--real", type=Path, required=True)
    parser.add_argument("--synthetic", type=Path, nargs="*", default=[])
    parser.add_argument(
        "--engines",
        nargs="*",
        default=["builtin"],
        help="builtin, pocketsphinx, moonshine:FOLDER, vosk:FOLDER",
    )
    parser.add_argument("--models", type=Path, default=ROOT / "models")
    parser.add_argument(
        "--levels", nargs="*", type=int, default=[99, 20, 10, 5, 0], help="decibels; 99 is quiet"
    )
    parser.add_argument("--sets", nargs="*", help="only sets whose name begins so")
    parser.add_argument("--every", type=int, default=1, help="take each n-th clip only")
    parser.add_argument("--no-long", action="store_true", help="leave out the hour of talk and noise")
    parser.add_argument("--json", type=Path, help="write the table here too")
    options = parser.parse_args()
    makers: dict[str, Callable[[str], Recogniser]] = {
        "builtin": lambda _: BuiltinEar(options.models),
        "pocketsphinx": lambda _: SphinxEar(),
        "moonshine": lambda folder: MoonshineEar(Path(folder)),
        "vosk": lambda folder: VoskEar(Path(folder)),
    }
    ears = [makers[name.partition(":")[0]](name.partition(":")[2]) for name in options.engines]
    checks = checks_in(ROOT / "checklists")
    clips = list(real_clips(options.real))
    clips += [clip for folder in options.synthetic for clip in spoken_clips(folder, checks)]
    wanted = tuple(options.sets or [""])
    clips = [clip for clip in clips if clip.set_name.startswith(wanted)][:: options.every]
    heads = ("clips", "right%", "refus%", "wrong%", "ms")
    say(f"{'engine':13} {'set, noise':32} " + " ".join(f"{head:>7}" for head in heads))
    table = bench_clips(ears, clips, tuple(None if level == 99 else level for level in options.levels))
    if options.json:
        options.json.write_text(json.dumps(table, indent=1))
    if not options.no_long:
        long_runs(
            ears, options.real, (*sentence.SHORT, "affirm", "negative", "correction", "standby", "continue")
        )


if __name__ == "__main__":
    main()
