"""What the ears are judged on: clips with the truth and the phrases in force, by set."""

import random
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

from runner.checklist.format.check import Check
from runner.checklist.format.check_load import load_check
from runner.checklist.kind.item_phrases import endings, phrases_of
from runner.checklist.kind.reading import Reading
from runner.language.force import word_meanings
from runner.language.meaning import Meaning, Value
from tests.bench.ear.training import recording, sentence

Samples16 = npt.NDArray[np.int16]


@dataclass(frozen=True, slots=True)
class Clip:
    """One utterance for an ear."""

    set_name: str
    samples: Samples16
    truth: frozenset[str]
    """Every phrase that counts as right; empty when nothing in force was said."""
    phrases: tuple[str, ...]
    """What is in force."""
    speaker: str = ""


def real_clips(folder: Path) -> Iterator[Clip]:
    """The test speakers' short words and digits, and what they said that was not in force."""
    short = (*sentence.SHORT, *word_meanings())
    digits = (*sentence.DIGITS, *word_meanings())
    for r in recording.real(folder, ("commands", "digits", "words", "requests")):
        if r.part != "test":
            continue
        if r.kind == "digits":
            yield Clip("real digits", r.samples, frozenset({r.text}), digits, r.speaker)
        elif r.kind == "commands" and r.text in sentence.SHORT:
            yield Clip("real words", r.samples, frozenset({r.text}), short, r.speaker)
        elif r.kind == "commands" and r.text != "tree":  # "tree" is how radio says three
            yield Clip("unknown short words", r.samples, frozenset(), short, r.speaker)
        else:
            yield Clip("unknown phrases", r.samples, frozenset(), short, r.speaker)


def check_texts(checks: list[Check]) -> list[str]:
    """Every phrase of the checks that is no number, and of readings some numbers: for a voice to speak."""
    rng = random.Random(5)  # noqa: S311 - picks samples
    texts: set[str] = set()
    for check in checks:
        for item in check.items:
            phrases = item_phrases(check, item.name)
            meanings = phrases_of(item, words=()).meanings
            texts |= set(rng.sample(sorted(meanings), min(12, len(meanings)))) if phrases else set()
            texts |= set(endings(item, is_stuck=False)) if _is_spin_up(check, item.name) else set()
    return sorted(texts | set(word_meanings()))


def item_phrases(check: Check, name: str) -> dict[str, Meaning]:
    """What is in force at an item, with the first spin-up's phrase beside it."""
    clocks = [item for item in check.items if _is_spin_up(check, item.name)][:1]
    item = check.item(name)
    return dict(phrases_of(item, pulled=tuple(c for c in clocks if c.name != name)).meanings)


def _is_spin_up(check: Check, name: str) -> bool:
    return type(check.item(name).body).__name__ == "SpinUp"


def spoken_clips(folder: Path, checks: list[Check]) -> Iterator[Clip]:
    """Synthetic test voices, each at an item where what they say is in force."""
    places = [(check, item.name, item_phrases(check, item.name)) for check in checks for item in check.items]
    rng = random.Random(9)  # noqa: S311 - picks samples
    for r in recording.synthetic(folder):
        fitting = [(name, phrases) for _, name, phrases in places if r.text in phrases]
        if r.part == "test" and fitting:
            _, phrases = rng.choice(fitting)
            meaning = phrases[r.text]
            same = frozenset(text for text, other in phrases.items() if other == meaning)
            kind = "volts, spoken" if isinstance(meaning, Value) else "phrases, spoken"
            yield Clip(kind, r.samples, same, tuple(phrases), r.speaker)


def checks_in(folder: Path) -> list[Check]:
    """The shipped checks."""
    return [load_check(path) for path in sorted(folder.glob("*.yaml"))]


def reading_items(check: Check) -> list[str]:
    """Names of items that take a number."""
    return [item.name for item in check.items if isinstance(item.body, Reading)]


def long_sound(folder: Path, kinds: tuple[str, ...]) -> Samples16:
    """The test speakers' recordings of these kinds end to end."""
    parts: list[Samples16] = []
    found = [r for r in recording.real(folder, kinds) if r.part == "test" or r.kind == "reading"]
    for r in found:
        parts += [r.samples, np.zeros(8_000, np.int16)]
    return np.concatenate(parts)
