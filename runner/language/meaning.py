"""What an answer can mean: the closed set that the machine understands, whether spoken or keyed."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum


class Word(StrEnum):
    """Words that are always in force; the value is what is said."""

    SAY_AGAIN = "say again"
    STANDBY = "standby"
    CONTINUE = "continue"
    CORRECTION = "correction"
    DISREGARD = "disregard"
    NEGATIVE = "negative"
    AFFIRM = "affirm"
    CONFIRM = "confirm"
    UNABLE = "unable"
    READ_BACK = "read back"
    ROGER = "roger"
    """Heard so that it can be refused: it never answers an item."""
    WHY = "why"
    NOTE = "note"
    PUT_OFF = "put off"
    ABANDON = "abandon check"
    SQUAWK = "squawk it"
    """In force while a stop stands, and nowhere else."""
    SPEAK_SLOWER = "speak slower"
    WORDS_TWICE = "words twice"


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


Meaning = Command | Picked | Value | Pulled | Stuck
