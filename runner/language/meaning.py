"""What an answer can mean: the closed set that the machine understands, whether spoken or keyed."""

from dataclasses import dataclass
from decimal import Decimal

from runner.language.catalogue import Word


@dataclass(frozen=True, slots=True)
class Command:
    """A standard word, or one of the tool's own few."""

    word: Word


@dataclass(frozen=True, slots=True)
class Picked:
    """One of an item's named responses."""

    item: str
    label: str


@dataclass(frozen=True, slots=True)
class Value:
    """A reading's number, in the reading's own unit."""

    item: str
    number: Decimal


@dataclass(frozen=True, slots=True)
class Pulled:
    """A gyro's flag is pulled: its clock ends."""

    item: str


@dataclass(frozen=True, slots=True)
class Stuck:
    """A gyro's flag has not pulled by its limit: its clock ends as a squawk."""

    item: str


@dataclass(frozen=True, slots=True)
class Corrected:
    """The word "correction", and in the same breath the new answer of the item whose answer it takes back."""

    answer: Picked | Value


Meaning = Command | Picked | Value | Pulled | Stuck | Corrected
