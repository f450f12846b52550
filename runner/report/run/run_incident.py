"""PURE: what happened in a run beside its answers: stops, holds, keys for voice, items put off."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from runner.core.record.entry import (
    AbandonStarted,
    BatteryWarned,
    ClockAdvised,
    ClockLimitPassed,
    ConfirmationAsked,
    ConfirmationDropped,
    Entry,
    Held,
    InputChanged,
    Interrupted,
    PortChanged,
    PutOff,
    Released,
    Reopened,
    RunAbandoned,
    RunCompleted,
    Stopped,
    StopRetried,
    StopSquawked,
    StopWithdrawn,
)


@dataclass(frozen=True, slots=True)
class Incident:
    """One thing that happened, in words."""

    at: float
    """Seconds since the epoch."""
    item: str
    """The item that it concerns; empty for the whole run."""
    words: str


PLAIN: Final[Mapping[type[Entry], str]] = {
    Held: "held on standby",
    Interrupted: "reopened after the program had stopped",
    PutOff: "put off",
    Reopened: "reopened by a correction",
    ConfirmationDropped: "what was to be confirmed was taken back",
    ClockAdvised: "flag still in view at the advise time",
    ClockLimitPassed: "flag still in view at the limit",
    StopSquawked: "the stop was written down as a squawk",
    StopWithdrawn: "the stop was taken back by a correction",
    StopRetried: "to be asked once more, everything having been put back",
    AbandonStarted: "check abandoned",
    RunAbandoned: "ended without the completion call",
    RunCompleted: "complete",
}


def incidents_of(entries: Iterable[Entry]) -> tuple[Incident, ...]:
    """In the order of the record; answers, notes and clocks that start or end are told elsewhere."""
    return tuple(_incidents(entries))


def _incidents(entries: Iterable[Entry]) -> Iterator[Incident]:
    held_at: float | None = None
    for entry in entries:
        words = _words(entry)
        if isinstance(entry, Released) and held_at is not None:
            words = f"went on after {entry.at - held_at:.0f} s"
        held_at = entry.at if isinstance(entry, Held) else held_at
        if words:
            yield Incident(entry.at, str(getattr(entry, "item", "")), words)


def _words(entry: Entry) -> str:
    """What an entry's own figures say; empty for what is told elsewhere."""
    match entry:
        case InputChanged() | PortChanged():
            return _change_words(entry)
        case Stopped(answer=answer, unit=unit):
            return f"STOP: {answer} {unit}".strip()
        case BatteryWarned(ampere_hours=used):
            return f"battery warning: {used:.2f} Ah used"
        case ConfirmationAsked(item=""):
            return "asked whether to abandon the check"
        case ConfirmationAsked(number=None):
            return "the computer's clock was set back; asked whether to restart the clocks"
        case _:
            return PLAIN.get(type(entry), "")


def _change_words(entry: InputChanged | PortChanged) -> str:
    if isinstance(entry, InputChanged):
        return f"answers by {entry.channel}: {entry.cause}"
    return f"{entry.port} failed: {entry.reason}" if entry.is_lost else f"{entry.port} serves again"
