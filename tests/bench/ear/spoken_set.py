"""Makes the synthetic test sets: the phrases of the shipped checks and voltages, by voices kept for tests.

Needs Debian's espeak-ng and flite; about two minutes, once.
"""

import random
import shutil
from pathlib import Path
from typing import Any, Final

import numpy as np

from runner.checklist.format.check import Check
from tests.bench.ear.sound_set import check_texts
from tests.bench.ear.training import speaker, vocabulary

PROGRAMS: Final = ("espeak-ng", "flite")
CLIPS: Final = 450
"""Of phrases, and of voltages as many."""
_SHARE: Final = {"espeak": 4, "flite": 3}
_LEAST: Final = 2_000


def make_sets(work: Path, checks: list[Check]) -> list[Path]:
    """The folders `phrases` and `volts` under `work`, made where they are missing."""
    texts = {"phrases": check_texts(checks), "volts": sorted(vocabulary.all_volts())}
    for name, spoken in texts.items():
        if not (work / name).is_dir():
            _make(work / name, spoken)
    return [work / name for name in texts]


def missing_programs() -> list[str]:
    """Speech programs that are not installed."""
    return [name for name in PROGRAMS if shutil.which(name) is None]


def _make(folder: Path, texts: list[str]) -> None:
    """Written beside and then renamed, so that half a set is never read."""
    half = folder.with_name(f"{folder.name}.part")
    half.mkdir(parents=True, exist_ok=True)
    rng = random.Random(f"test {folder.name}")  # noqa: S311 - picks samples
    said = speaker.voices("test")
    grouped: dict[str, list[str]] = speaker.families(said)
    shares = [_SHARE[family] for family in grouped]
    index: list[str] = []
    first = 0
    with (half / "audio.i16").open("wb") as audio:
        while len(index) < CLIPS:
            text = rng.choice(texts)
            name = rng.choice(grouped[rng.choices(list(grouped), shares)[0]])
            samples = _loud(said[name](text, rng))
            if len(samples) < _LEAST:
                continue
            audio.write(samples.tobytes())
            index.append(f"{first}\t{len(samples)}\ttest\t{name}\t{text}\n")
            first += len(samples)
    (half / "index.tsv").write_text("".join(index), encoding="utf-8")
    half.rename(folder)


def _loud(samples: Any) -> Any:
    """16 bit, its peak at half of full scale."""
    return (samples * (0.5 / max(1e-4, float(np.abs(samples).max()))) * 32767).astype(np.int16)
