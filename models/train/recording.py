"""The speech that the network is trained, calibrated and judged on, split by speaker."""

import csv
import hashlib
import json
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np
import numpy.typing as npt
from listen import read_sound

FOLDS: Final = 3
"""Networks that calibration trains besides the shipped one, each without a third of the training speakers."""

DIGIT_SPEAKERS: Final = {"george": 0, "jackson": 1, "nicolas": 2, "lucas": None}
"""The fold that leaves each one out; none for the test speaker."""

HELD_NOISE: Final = frozenset({"exercise_bike", "running_tap"})


@dataclass(frozen=True, slots=True)
class Recording:
    """One utterance and who said what in it."""

    samples: npt.NDArray[np.int16]
    text: str
    """What was said, lower case; empty when nobody wrote it down."""
    speaker: str
    kind: str
    """commands, digits, words, requests, reading, background, or synthetic."""
    part: str
    """train, calibration (synthetic voices only) or test; a speaker is in one only."""

    @property
    def fold(self) -> int:
        """Of the folds, the one whose network never hears this speaker."""
        if self.kind == "digits":
            return DIGIT_SPEAKERS[self.speaker] or 0
        return _draw(f"fold {self.speaker}") % FOLDS


def part_of(speaker: str) -> str:
    """Where a speaker belongs: 80 % train, 20 % test, by a hash of the name."""
    return "train" if _draw(speaker) % 100 < 80 else "test"


def _draw(name: str) -> int:
    return int(hashlib.sha1(name.encode(), usedforsecurity=False).hexdigest()[:8], 16)


def _part(kind: str, speaker: str) -> str:
    if kind == "digits":
        return "test" if DIGIT_SPEAKERS[speaker] is None else "train"
    if kind == "background":
        return "test" if speaker in HELD_NOISE else "train"
    return part_of(speaker)


def clean_text(text: str) -> str:
    """Lower case words only; nothing for what is no transcript."""
    if text.startswith(("intent:", "noise:")):
        return ""
    kept = "".join(c if c.isalpha() or c in "' " else " " for c in text.lower().replace("\u2019", "'"))
    return " ".join(kept.split())


def real(folder: Path, kinds: tuple[str, ...]) -> Iterator[Recording]:
    """The open recordings listed in a folder's index.tsv."""
    with (folder / "index.tsv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE):
            kind = row["path"].partition("/")[0]
            if kind not in kinds:
                continue
            speaker = row["speaker"] or Path(row["path"]).stem
            part = _part(kind, speaker)
            text = clean_text(row["text"])
            yield Recording(read_sound(folder / row["path"]), text, speaker, kind, part)


def synthetic(folder: Path) -> Iterator[Recording]:
    """What `synthesise.py` wrote into a folder."""
    audio = np.memmap(folder / "audio.i16", dtype=np.int16, mode="r")
    for line in (folder / "index.tsv").read_text(encoding="utf-8").splitlines():
        first, length, part, speaker, text = line.split("\t")
        samples = np.array(audio[int(first) : int(first) + int(length)])
        yield Recording(samples, text, speaker, "synthetic", part)


def packed(folder: Path) -> Iterator[Recording]:
    """What `pack.py` wrote into a folder."""
    for recording, _ in packed_with_phones(folder, 1):
        yield recording


def packed_with_phones(folder: Path, processes: int) -> Iterator[tuple[Recording, list[list[int]]]]:
    """What `pack.py` wrote into a folder, with the phone strings that each text may be."""
    index = json.loads((folder / "index.json").read_text(encoding="utf-8"))
    names = sorted({entry[0] for entry in index})
    with ThreadPoolExecutor(processes) as pool:  # libsndfile decodes outside Python's lock
        streams = dict(zip(names, pool.map(lambda name: read_sound(folder / name), names), strict=True))
    for name, first, length, kind, part, speaker, text, ways in index:
        yield Recording(streams[name][first : first + length], text, speaker, kind, part), ways
