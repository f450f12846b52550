"""PURE: what stands on a sheet of paper, block by block; `paper.py` sets it in type."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Top:
    """The head of the sheet."""

    name: str
    """The registration, in large letters."""
    about: str
    result: str
    """In bold at the right, with these lines below it."""
    counts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph."""

    text: str
    is_bold: bool = False
    is_framed: bool = False


@dataclass(frozen=True, slots=True)
class Facts:
    """Names with values, in three columns."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Heading:
    """Begins a part of the sheet with a rule."""

    text: str


@dataclass(frozen=True, slots=True)
class Discrepancy:
    """A squawk, and room to write below it."""

    title: str
    lines: tuple[str, ...]
    to_fill_in: tuple[tuple[str, float], ...]
    """Names of the blanks in one line, each with its share of it; none when it is closed."""


@dataclass(frozen=True, slots=True)
class Columns:
    """A table; each width is a share of the line."""

    heads: tuple[str, ...]
    widths: tuple[float, ...]
    rows: Sequence[tuple[str, ...]]


Block = Top | Words | Facts | Heading | Discrepancy | Columns


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole paper."""

    title: str
    """For the file's own title."""
    at: float
    """When it was made, seconds since the epoch."""
    foot: str
    """One line at the bottom of every page."""
    blocks: tuple[Block, ...]


BLANKS = (("action taken", 0.4), ("date", 0.13), ("name, certificate no. and kind", 0.27), ("signature", 0.2))
"""What a person writes who signs work off, after 14 CFR 43.9(a) (from memory); their own record counts."""

POINTER = (
    "To be entered in the airplane's maintenance record by whoever does the work (14 CFR 43.9); to wait "
    "without a minimum equipment list, see the questions of 14 CFR 91.213(d), which eyesout squawk asks. "
    "This paper is no such entry and answers none of them."
)
OF_BLANKS = "The blanks are for notes."
