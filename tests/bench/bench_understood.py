"""How well the tool's voice is understood by a recogniser that knows nothing of it, in quiet and in noise.

python tests/bench/bench_understood.py MOONSHINE_TINY_FOLDER [PROMPTS]

The folder is `moonshine_voice/assets/tiny-en` of the wheel moonshine-voice 0.0.59. Needs the extra `bench`.
Words wrong in percent (word errors over words, jiwer), read-backs wholly right, and STOI (pystoi) of the
noisy sound against the clean one, for each voice, with and without compression and emphasis.
"""

import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import jiwer
import numpy as np
import pystoi

from runner.core.ask.upcoming_prompts import upcoming_prompts
from runner.language.breath import get_sentences
from runner.place import data_folder
from runner.session.parts import load_parts
from runner.voice.background import Background, get_active_rms, make_background
from runner.voice.mouth.compression import CompressedVoice
from runner.voice.mouth.pace import PacedVoice
from runner.voice.mouth.pyttsx3_voice import Pyttsx3Voice
from runner.voice.port import RATE, Samples, Sound, Voice
from runner.voice.sound import resample
from tests.bench.ear.training import transcribe

MOST: Final = 125
NAMES: Final = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
DIGITS: Final = dict(zip("0123456789", NAMES, strict=True))
SAME: Final = {"point": "decimal", "niner": "nine", "fife": "five", "fower": "four", "tree": "three"}
UNITS: Final = ("volts", "amps", "seconds", "degrees", "percent", "minutes")
HEADSET_HZ: Final = (300.0, 3400.0)
"""The band of a radio headset (common practice, no source)."""
PAD_SECONDS: Final = 0.4


def main() -> None:
    """One row a voice, three columns of noise."""
    ear = transcribe.Transcriber(Path(sys.argv[1]))
    prompts = prompts_of_the_shipped_checks(int(sys.argv[2]) if len(sys.argv) == len("psn") else MOST)
    numbers = [text for text in prompts if is_read_back(text)]
    _say(f"{len(prompts)} prompts, {len(numbers)} of them read-backs with a number")
    _say("wrong words / read-backs wholly right / STOI")
    _say(f"{'voice':58} {'quiet':>18} {'engine 5 dB':>18} {'headset 10 dB':>18}")
    for voice in ("system", "heart"):
        with Pyttsx3Voice(voice) as spoken:
            ways: tuple[Voice, ...] = (
                spoken,
                CompressedVoice(spoken),
                CompressedVoice(spoken, has_emphasis=True),
            )
            for way in ways:
                _say(row(ear, PacedVoice(way), prompts))


def prompts_of_the_shipped_checks(most: int) -> list[str]:
    """An even choice of single sentences out of all that the shipped checks may say."""
    texts: dict[str, None] = {}
    for path in sorted(data_folder("checklists").glob("*.yaml")):
        for prompt in upcoming_prompts(load_parts(path.stem).plan):
            texts.update(dict.fromkeys(part for part in get_sentences(prompt.text) if part))
    every = list(texts)
    return [every[n * len(every) // most] for n in range(min(most, len(every)))]


def row(ear: transcribe.Transcriber, voice: Voice, prompts: list[str]) -> str:
    """The figures of one voice in the three rooms."""
    generator = np.random.default_rng(0)
    cells = []
    sounds = [padded(resample(voice.render(text), RATE)) for text in prompts]
    for snr_db, is_headset in ((None, False), (5.0, False), (10.0, True)):
        heard = [in_room(sound, snr_db, generator, is_headset=is_headset) for sound in sounds]
        cells.append(cell(ear, prompts, sounds, heard))
    return f"{voice.name:58} " + " ".join(f"{each:>18}" for each in cells)


def cell(ear: transcribe.Transcriber, prompts: list[str], clean: list[Samples], heard: list[Samples]) -> str:
    """`wrong % / right of n / STOI`."""
    wanted = [normal(text) for text in prompts]
    got = [normal(ear.text(samples)[0]) or "nothing" for samples in heard]
    wrong = 100.0 * float(jiwer.wer(wanted, got))
    right = sum(a == b for a, b, text in zip(wanted, got, prompts, strict=True) if is_read_back(text))
    stoi = np.mean([pystoi.stoi(a, b, RATE) for a, b in zip(clean, heard, strict=True)])
    return f"{wrong:4.0f} % / {right:2} / {stoi:.2f}"


def in_room(
    samples: Samples, snr_db: float | None, generator: np.random.Generator, *, is_headset: bool
) -> Samples:
    """With engine noise so far under the speech, through a headset's band where there is one."""
    mixed = samples
    if snr_db is not None:
        noise = make_background(Background.ENGINE, len(samples), generator)
        mixed = samples + noise * (get_active_rms(samples) / 10.0 ** (snr_db / 20.0))
    if not is_headset:
        return np.asarray(mixed, np.float32)
    spectrum = np.fft.rfft(mixed)
    hertz = np.fft.rfftfreq(len(mixed), 1.0 / RATE)
    spectrum[(hertz < HEADSET_HZ[0]) | (hertz > HEADSET_HZ[1])] = 0.0
    return np.asarray(np.fft.irfft(spectrum, len(mixed)), np.float32)


def padded(sound: Sound) -> Samples:
    """With a little silence at both ends, as a listener has it."""
    silence = np.zeros(round(PAD_SECONDS * RATE), np.float32)
    return np.concatenate([silence, sound.samples, silence])


def is_read_back(text: str) -> bool:
    """Whether a number with its unit is in it."""
    return any(unit in text for unit in UNITS) and any(
        word in normal(text).split() for word in DIGITS.values()
    )


def normal(text: str) -> str:
    """Lower-case words; figures digit by digit, since that is how they are spoken here."""
    return " ".join(_words(text.lower()))


def _words(text: str) -> Iterator[str]:
    for piece in re.findall(r"\d+(?:\.\d+)*|[a-z']+|%", text):
        if piece[0].isdigit():
            yield from (DIGITS.get(character, "decimal") for character in piece)
        else:
            yield "percent" if piece == "%" else SAME.get(piece, piece)


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
