"""Figures on the command line: plain decimal numbers within bounds, never NaN, infinite or absurd."""

import argparse
import secrets
from collections.abc import Callable
from typing import Final

from runner.document import NUMBER

MINUTES: Final = (0, 600)
"""Of a flight on its battery."""
LARGEST_SEED: Final = 999_999


def figure(low: float, high: float) -> Callable[[str], float]:
    """A type for argparse: `low` to `high` in the unit of its option, both included."""

    def read(words: str) -> float:
        return _within(words, low, high)

    return read


def whole(low: int, high: int) -> Callable[[str], int]:
    """The same for whole numbers."""

    def read(words: str) -> int:
        if not words.lstrip("-").isdecimal():
            raise argparse.ArgumentTypeError(f'"{_short(words)}" is no whole number; write {low} to {high}')
        return int(_within(words, low, high))

    return read


def add_seed(group: argparse._ActionsContainer, does: str) -> None:
    """The seed of what a command invents; `does` is what the same one does, for its help."""
    group.add_argument("--seed", type=whole(0, LARGEST_SEED), metavar="S", help=f"the same seed {does}")


def seed_of(arguments: argparse.Namespace) -> int:
    """The one that was given, or any."""
    return secrets.randbelow(LARGEST_SEED + 1) if arguments.seed is None else int(arguments.seed)


def _within(words: str, low: float, high: float) -> float:
    if not NUMBER.fullmatch(words):
        raise argparse.ArgumentTypeError(f'"{_short(words)}" is no number; write {low:g} to {high:g}')
    number = float(words)
    if not low <= number <= high:
        raise argparse.ArgumentTypeError(f"{words} is out of range; write {low:g} to {high:g}")
    return number


def _short(words: str) -> str:
    return words if len(words) <= 20 else f"{words[:20]}..."  # noqa: PLR2004 - enough to know it again
