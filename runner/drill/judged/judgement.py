"""The judgement of a drill: each answer against what was to be seen, each fault against who noticed it.

An answer is taken for what could be seen from the end of its challenge to its onset: whoever saw it at any
moment of that has looked. A fault is caught by a true answer that would be false without it, or by calling
something that looks otherwise without it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from runner.checklist.format.check import Check, Item
from runner.core.record.danger_stop import Stop
from runner.core.record.entry import AnswerRecorded, ClockEnded, Stopped
from runner.core.record.progress import Progress
from runner.drill.drill_event import DrillEvent, FaultCalled, HandMoved
from runner.drill.judged.film import FRAME_SECONDS, Film, Frame
from runner.drill.judged.item_truth import Around, Truth, truth_of, undone
from runner.drill.played.drill_panel import BREAKERS
from runner.drill.played.hidden import ABSENT_SECONDS, PRESENT_SECONDS, Hidden, HiddenKind
from runner.language.catalogue import Outcome

VOICE_SECONDS: Final = 1.5
"""A flag is called by voice so long after it was seen, or before a whole second has passed; ours."""
CLEARED_SECONDS: Final = 5.0
"""After a stop the danger around the airplane is taken away; ours."""


MEMORY_SECONDS: Final = PRESENT_SECONDS + ABSENT_SECONDS
"""For so long what was seen may be called: one round of what comes and goes."""


class AnswerVerdict(StrEnum):
    """What an answer was worth."""

    RIGHT = "right"
    MISSED = "missed"
    """All was said to be well, and it was not."""
    INVENTED = "invented"
    """Something was said to be wrong, and all was well."""
    OTHER = "taken for another"
    """Something was wrong, and something else was said."""
    UNDONE = "said, not done"


@dataclass(frozen=True, slots=True)
class JudgedAnswer:
    """One answer that stands at the end."""

    item: str
    answer: str
    truth: str
    verdict: AnswerVerdict
    onset_at: float
    seconds: float | None
    """From the end of the challenge; for a flag, from the moment that it pulled."""
    is_hasty: bool
    left_undone: tuple[str, ...] = ()
    """Switches that did not stand as the answer says."""
    shows: tuple[Hidden, ...] = ()
    """Faults that made the true answer what it was."""


@dataclass(frozen=True, slots=True)
class JudgedFault:
    """What became of a fault."""

    fault: Hidden
    seen_at: float | None
    """When it could be seen first, seconds since the epoch; None when it never could."""
    seen_in: tuple[str, ...]
    """Where, at that moment."""
    caught_at: float | None
    caught_by: str
    """The item whose answer showed it, or what was called; empty when it was missed."""


@dataclass(frozen=True, slots=True)
class Judgement:
    """A whole drill, judged."""

    answers: tuple[JudgedAnswer, ...]
    """In the order of giving."""
    faults: tuple[JudgedFault, ...]
    invented: tuple[str, ...]
    """What was called, or answered to be wrong, and was well."""

    @property
    def caught(self) -> tuple[Hidden, ...]:
        """Faults that were noticed."""
        return tuple(each.fault for each in self.faults if each.caught_at is not None)

    @property
    def missed(self) -> tuple[Hidden, ...]:
        """Faults that could be seen and were not."""
        return tuple(
            each.fault for each in self.faults if each.caught_at is None and each.seen_at is not None
        )

    @property
    def unseen(self) -> tuple[Hidden, ...]:
        """Faults that could not be seen, as the drill went."""
        return tuple(each.fault for each in self.faults if each.caught_at is None and each.seen_at is None)


def judge(film: Film, progress: Progress, events: Sequence[DrillEvent], around: Around) -> Judgement:
    """Hold every answer and every call against the film."""
    court = _Court(film, progress.plan.check, around, progress.stops)
    answers = tuple(sorted(_answers(court, progress), key=lambda each: each.onset_at))
    calls = tuple(event for event in events if isinstance(event, FaultCalled))
    faults = tuple(_fault(court, fault, answers, calls, events) for fault in film.faults)
    return Judgement(answers, faults, tuple(_invented(film, answers, calls)))


@dataclass(frozen=True, slots=True)
class _Court:
    film: Film
    check: Check
    around: Around
    stops: tuple[Stop, ...]

    def around_at(self, at: float) -> Around:
        """What is so around the airplane: a danger that was named is soon taken away."""
        cleared = {stop.item for stop in self.stops if stop.at + CLEARED_SECONDS <= at}
        return {item: label for item, label in self.around.items() if item not in cleared}

    def truth(self, item: Item, frame: Frame) -> Truth:
        return truth_of(item, frame.panel, self.film.setting.airplane, self.around_at(frame.at))

    def shows(self, item: Item, frame: Frame, truth: Truth) -> tuple[Hidden, ...]:
        """Faults without which something else would be true."""
        airplane, around = self.film.setting.airplane, self.around_at(frame.at)
        return tuple(
            fault
            for fault, panel in frame.without.items()
            if truth_of(item, panel, airplane, around).tells_from(truth)
        )


def _answers(court: _Court, progress: Progress) -> Iterator[JudgedAnswer]:
    for stop in progress.stops:
        if stop.withdrawn_at is None:
            yield _named(court, stop.found, Outcome.STOP)
    for answer in progress.answers.values():
        yield _named(court, answer, answer.outcome)
    for clock in progress.clocks.values():
        if clock.ended is not None:
            yield _flag(court, clock.ended, clock.started_at)


def _named(court: _Court, given: AnswerRecorded | Stopped, outcome: Outcome) -> JudgedAnswer:
    """An answer by name or number, held against all that was to be seen while it was looked for."""
    item, onset_at = court.check.item(given.item), given.origin.onset_at
    frames = court.film.between(onset_at - (given.origin.response_seconds or 0.0), onset_at)
    told = [(court.truth(item, frame), frame) for frame in frames]
    true = [(truth, frame) for truth, frame in told if truth.admits(given.answer)]
    truth, frame = (true or told)[-1]
    verdict = _verdict([each for each, _ in told], outcome, is_true=bool(true))
    left = _left_undone(court, item, onset_at)
    if left and verdict is AnswerVerdict.RIGHT:
        verdict = AnswerVerdict.UNDONE
    shows = () if truth.is_usual else court.shows(item, frame, truth)
    return JudgedAnswer(
        given.item,
        f"{given.answer} {given.unit}".strip(),
        truth.words,
        verdict,
        onset_at,
        given.origin.response_seconds,
        given.origin.is_hasty,
        left,
        shows,
    )


def _left_undone(court: _Court, item: Item, onset_at: float) -> tuple[str, ...]:
    """What was not done at any moment of the last second: hands may be faster than words."""
    airplane = court.film.setting.airplane
    frames = court.film.between(onset_at - FRAME_SECONDS, onset_at)
    found = [undone(item, frame.panel, airplane) for frame in frames]
    return tuple(name for name in found[-1] if all(name in each for each in found))


def _verdict(truths: Sequence[Truth], outcome: Outcome, *, is_true: bool) -> AnswerVerdict:
    if is_true:
        return AnswerVerdict.RIGHT
    if outcome is Outcome.PASS and not any(truth.is_usual for truth in truths):
        return AnswerVerdict.MISSED
    if outcome is not Outcome.PASS and all(truth.is_usual for truth in truths):
        return AnswerVerdict.INVENTED
    return AnswerVerdict.OTHER


def _flag(court: _Court, ended: ClockEnded, started_at: float) -> JudgedAnswer:
    """A flag that was called, against when it pulled."""
    item, called_at = court.check.item(ended.item), started_at + ended.seconds
    near = court.film.between(called_at - VOICE_SECONDS, called_at + VOICE_SECONDS)
    told = [court.truth(item, frame) for frame in near]
    is_true = any(truth.is_usual == ended.is_pulled for truth in told)
    pulled_at = _pulled_at(court, item, started_at, called_at)
    frame, is_usual = near[-1], ended.outcome is Outcome.PASS
    without = _court_without(court, item, frame) if not told[-1].is_usual else _late(court, item, pulled_at)
    if is_true:
        verdict = AnswerVerdict.RIGHT
    elif ended.is_pulled:
        verdict = AnswerVerdict.MISSED if without else AnswerVerdict.OTHER
    else:
        verdict = AnswerVerdict.INVENTED
    return JudgedAnswer(
        ended.item,
        f"{item.responses[0 if ended.is_pulled else 1].label}, {ended.seconds:.0f} s",
        told[-1].words
        if pulled_at is None
        else f"{item.responses[0].label} at {pulled_at - started_at:.0f} s",
        verdict,
        called_at,
        None if pulled_at is None else max(0.0, called_at - pulled_at),
        is_hasty=not is_true,
        shows=() if is_usual and is_true else without,
    )


def _pulled_at(court: _Court, item: Item, since: float, until: float) -> float | None:
    frames = court.film.between(since, until + VOICE_SECONDS)
    return next((frame.at for frame in frames if court.truth(item, frame).is_usual), None)


def _court_without(court: _Court, item: Item, frame: Frame) -> tuple[Hidden, ...]:
    """Faults without which the flag would be pulled at this moment."""
    return court.shows(item, frame, court.truth(item, frame))


def _late(court: _Court, item: Item, pulled_at: float | None) -> tuple[Hidden, ...]:
    """Faults without which the flag had been pulled some seconds before it was."""
    if pulled_at is None:
        return ()
    return _court_without(court, item, court.film.at(pulled_at - 2 * VOICE_SECONDS))


def _fault(
    court: _Court,
    fault: Hidden,
    answers: Iterable[JudgedAnswer],
    calls: Iterable[FaultCalled],
    events: Iterable[DrillEvent],
) -> JudgedFault:
    first = next((frame for frame in court.film.frames if frame.tells(fault) - {BREAKERS}), None)
    seen_in = () if first is None else tuple(sorted(first.tells(fault) - {BREAKERS}))
    catches = [
        (answer.onset_at, answer.item)
        for answer in answers
        if fault in answer.shows and answer.verdict is AnswerVerdict.RIGHT
    ]
    catches += [(call.at, call.name) for call in calls if _is_called(court.film, fault, call)]
    if fault.kind is HiddenKind.NOT_RESTORED:
        catches += _restored(court.film, events)
    caught_at, caught_by = min(catches, default=(None, ""))
    return JudgedFault(fault, None if first is None else first.at, seen_in, caught_at, caught_by)


def _is_called(film: Film, fault: Hidden, call: FaultCalled) -> bool:
    """Whether the call names where the fault shows, now or a moment ago for what comes and goes."""
    frames = film.between(call.at - MEMORY_SECONDS, call.at)
    return any(call.name in frame.tells(fault) for frame in frames)


def _restored(film: Film, events: Iterable[DrillEvent]) -> Iterator[tuple[float, str]]:
    """The selector was put where it is parked before it went anywhere else."""
    selector = film.setting.airplane.selector
    moves = (event for event in events if isinstance(event, HandMoved) and event.switch == selector.name)
    first = next(moves, None)
    if first is not None and first.position == selector.parked:
        yield first.at, selector.name


def _invented(film: Film, answers: Iterable[JudgedAnswer], calls: Iterable[FaultCalled]) -> Iterator[str]:
    yield from (answer.item for answer in answers if answer.verdict is AnswerVerdict.INVENTED)
    for call in calls:
        frames = film.between(call.at - MEMORY_SECONDS, call.at)
        if not any(call.name in frame.panel.differences(frame.well) for frame in frames):
            yield call.name
