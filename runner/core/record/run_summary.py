"""The result of a run in counts and lists; it says what was found and judges no airplane."""

from collections.abc import Iterator
from dataclasses import dataclass

from runner.core.ask.agenda import applies, is_left_out
from runner.core.record.battery_use import ampere_hours
from runner.core.record.danger_stop import Stop
from runner.core.record.entry import (
    AnswerRecorded,
    ClockEnded,
    NoteRecorded,
    NoteTyped,
    RunCompleted,
    StopSquawked,
)
from runner.core.record.progress import Progress
from runner.language.catalogue import Outcome


@dataclass(frozen=True, slots=True)
class Summary:
    """What came of a run, whether it has ended or not."""

    is_complete: bool
    """The completion call was made."""
    is_ended: bool
    started_at: float | None
    ended_at: float | None
    answers: tuple[AnswerRecorded, ...]
    """Answers that stand, in the order of giving."""
    clocks: tuple[ClockEnded, ...]
    """Clocks that ended, in that order; `seconds` is the spin-up."""
    squawks: tuple[AnswerRecorded | ClockEnded | StopSquawked, ...]
    """Those of answers in the order of giving, then those that the pilot made of stops."""
    cautions: tuple[AnswerRecorded | ClockEnded, ...]
    stops: tuple[Stop, ...]
    """Remedied or not, in time order; none that a correction took back."""
    unable: tuple[str, ...]
    """Items that were declared unable."""
    unanswered: tuple[str, ...]
    """Items that applied and have no answer."""
    left_out: tuple[str, ...]
    """Items that did not apply: a choice went the other way, or a gyro got no power."""
    hasty: tuple[AnswerRecorded, ...]
    """Answers given faster than a person can look (NTSB/AAR-89/04)."""
    corrections: int
    holds: int
    interruptions: int
    notes: tuple[NoteRecorded | NoteTyped, ...]
    ampere_hours: float
    """Used of the battery up to the end."""


def summarise(progress: Progress, at: float | None = None) -> Summary:
    """The result so far; `at` is the present (seconds since the epoch) for the battery of an open run."""
    answers = tuple(progress.answers.values())
    clocks = tuple(clock.ended for clock in progress.clocks.values() if clock.ended is not None)
    records: tuple[AnswerRecorded | ClockEnded, ...] = (*answers, *clocks)
    order = {name: number for number, name in reversed(tuple(enumerate(progress.done)))}
    found = sorted(records, key=lambda record: order[record.item])
    ended = progress.ended
    return Summary(
        is_complete=isinstance(ended, RunCompleted),
        is_ended=ended is not None,
        started_at=progress.started_at,
        ended_at=None if ended is None else ended.at,
        answers=answers,
        clocks=clocks,
        squawks=(*(record for record in found if record.outcome is Outcome.SQUAWK), *_squawked(progress)),
        cautions=tuple(record for record in found if record.outcome is Outcome.CAUTION),
        stops=tuple(stop for stop in progress.stops if stop.withdrawn_at is None),
        unable=tuple(progress.unable),
        unanswered=_unanswered(progress),
        left_out=tuple(item.name for item in progress.plan.check.items if is_left_out(progress, item)),
        hasty=tuple(answer for answer in answers if answer.origin.is_hasty),
        corrections=len(progress.superseded),
        holds=progress.holds,
        interruptions=progress.interruptions,
        notes=progress.notes,
        ampere_hours=ampere_hours(progress, at if at is not None else _latest(progress)),
    )


def _squawked(progress: Progress) -> Iterator[StopSquawked]:
    for stop in progress.stops:
        if stop.squawked_at is not None:
            yield StopSquawked(stop.squawked_at, stop.item, stop.found.answer, stop.found.unit)


def _unanswered(progress: Progress) -> tuple[str, ...]:
    return tuple(
        item.name
        for item in progress.plan.check.items
        if applies(progress, item) and not progress.is_settled(item.name)
    )


def _latest(progress: Progress) -> float:
    """The last time that the record knows of for the battery: its end, or the selector's last move."""
    if progress.ended is not None:
        return progress.ended.at
    return progress.positions[-1].at if progress.positions else 0.0
