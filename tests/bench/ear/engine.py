"""The ears of the bench: how each is made, how many clips it is given, and how to get one that is missing."""

import importlib
import importlib.util
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from runner.errors import ModelError
from runner.voice.ear.builtin import BuiltinEar
from runner.voice.ear.vosk_ear import VoskEar
from runner.voice.port import Recogniser
from tests.bench.ear.moonshine import MoonshineEar
from tests.bench.ear.reference import SphinxEar

ENGINES: Final = ("builtin", "vosk", "pocketsphinx", "moonshine")
STEPPING: Final = ("builtin", "vosk")
"""Those that hear while the person speaks; the references wait for the end."""
MANY_PHRASES: Final = 500
"""Sets with more phrases in force are a burden to some references."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where the models are."""

    models: Path
    vosk: Path
    """A model in Vosk's format."""
    moonshine: Path
    """The folder tiny-en of its wheel."""


@dataclass(frozen=True, slots=True)
class Share:
    """Which clips an engine hears: every n-th group of four, so that each noise keeps its part."""

    every: int = 1
    every_of_many: int = 1
    """The same where many phrases are in force."""

    def takes(self, number: int, phrases: int) -> bool:
        """Whether it hears the clip of this number."""
        return (number // 4) % (self.every_of_many if phrases > MANY_PHRASES else self.every) == 0


SHARES: Final = {
    "builtin": Share(),
    "vosk": Share(),
    "moonshine": Share(4, 4),
    "pocketsphinx": Share(4, 8),
}
"""The references are slow (pocketsphinx most of all, for a number in noise), so they hear fewer clips."""


def make_ear(engine: str, place: Place) -> Recogniser:
    """ModelError or ImportError when it is not there."""
    makers: dict[str, Callable[[], Recogniser]] = {
        "builtin": lambda: BuiltinEar(place.models),
        "vosk": lambda: VoskEar(place.vosk),
        "pocketsphinx": SphinxEar,
        "moonshine": lambda: MoonshineEar(place.moonshine),
    }
    return makers[engine]()


def missing(engine: str, place: Place) -> str | None:
    """Why an engine cannot be measured, and what to do; None when it can."""
    if engine == "pocketsphinx" and importlib.util.find_spec("pocketsphinx") is None:
        return "pip install pocketsphinx"
    if engine == "moonshine" and not (place.moonshine / "decoder_model_merged.ort").exists():
        return (
            "pip download --no-deps moonshine-voice==0.0.59, unzip it, "
            "and name its folder moonshine_voice/assets/tiny-en with --moonshine"
        )
    if engine == "vosk" and not (place.vosk / "am" / "final.mdl").exists():
        return f"{place.vosk} has no model (models/train/README.md makes one; or --vosk FOLDER)"
    try:
        make_ear(engine, place)
    except (ModelError, ImportError) as error:
        return str(error)
    return None


def load_seconds(engine: str, place: Place) -> float:
    """Wall time to make the ear, its libraries loaded before."""
    make_ear(engine, place)
    started = time.perf_counter()
    make_ear(engine, place)
    return time.perf_counter() - started
