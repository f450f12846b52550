"""PURE: what a report of a run says in words, the same on every kind of paper."""

from collections.abc import Iterator, Sequence

from runner.core.record.answer_history import RunState
from runner.core.record.given_answer import AnswerKind, GivenAnswer
from runner.language.catalogue import Noun, Outcome
from runner.logbook.list.entry_wording import value_words
from runner.logbook.record.summary_table import RunSummary
from runner.logbook.squawk.deferral import report_line
from runner.logbook.squawk.maintenance_record import Closed, Deferred, Noted, Remark
from runner.logbook.squawk.squawk_record import Squawk, SquawkState
from runner.report.fleet.airplane_report import AirplaneReport, Recurrence
from runner.report.run.run_item import ItemState
from runner.report.run.run_report import RunReport

STATES = {
    RunState.COMPLETE: "Complete",
    RunState.ABANDONED: "Abandoned",
    RunState.OPEN: "Not finished",
}


def counted(count: int, noun: str) -> str:
    """`1 squawk`, `2 squawks`, `no squawks`; ValueError for a noun that the catalogue does not have."""
    return f"{count or 'no'} {Noun(noun).of(count)}"


def answer_words(answer: GivenAnswer | Squawk) -> str:
    """`24.6 volts`, `left out`, `flag pulled, 30.5 s`, `unable`."""
    unit = "s" if answer.kind is AnswerKind.SPIN_UP else answer.unit
    return value_words(answer.answer, answer.value, unit)


def haste_words(given: GivenAnswer) -> str:
    """How fast a hasty answer was."""
    seconds = given.response_seconds
    return "before the challenge was over" if seconds is None or seconds <= 0 else f"after {seconds:.1f} s"


def result_words(report: RunReport) -> tuple[str, ...]:
    """Lines: `1 squawk, 2 cautions`, `23 of 24 items answered`, `1 did not apply, 1 correction`."""
    answered, left_out = len(report.in_state(ItemState.ANSWERED)), len(report.in_state(ItemState.LEFT_OUT))
    cautions = len(report.with_outcome(Outcome.CAUTION))
    stops = sum(not stop.is_withdrawn for stop in report.stops)
    found = f"{counted(len(report.squawks), Noun.SQUAWK)}, {counted(cautions, Noun.CAUTION)}"
    found = f"{counted(stops, Noun.STOP)}, {found}" if stops else found
    items = f"{answered} of {len(report.items) - left_out} items answered"
    asides = ", ".join(_asides(report, left_out))
    return (found, items, asides) if asides else (found, items)


def _asides(report: RunReport, left_out: int) -> Iterator[str]:
    if left_out:
        yield f"{left_out} did not apply"
    if report.corrections:
        yield counted(report.corrections, Noun.CORRECTION)


def battery_words(report: RunReport) -> str:
    """`0.48 Ah of 28.9 Ah usable taken by this check, 1.7 %; warns at 8 %`."""
    plan, used = report.basis.plan, report.summary.ampere_hours
    if report.basis.airplane is None:
        return "not reckoned, as the check is for any airplane"
    words = f"{used:.2f} Ah of {plan.usable_ampere_hours:.1f} Ah usable taken by this check"
    if plan.usable_ampere_hours > 0:
        words += f" ({used / plan.usable_ampere_hours:.1%}, warning at {plan.warn_share:.0%})"
    return words if report.battery_warned_at is None else f"{words}; the warning was given"


def left_moved_words(report: RunReport) -> str:
    """The warning for what was moved and is not known to be back; empty when everything is."""
    names = " and ".join(report.left_moved)
    return f"{names} may be left moved: asked for in this run, not on record as put back" if names else ""


def remark_words(remark: Remark) -> str:
    """What a person recorded about a squawk."""
    match remark:
        case Noted():
            return f"noted: {remark.text}" if remark.text else "noted in sound"
        case Deferred():
            words = f"deferred until {remark.until} on {remark.reference}"
            return f"{words}. {report_line(remark.answers)}" if remark.answers else words
        case Closed():
            return f"closed: {remark.how}"


def squawk_words(squawk: Squawk) -> str:
    """What was answered."""
    return answer_words(squawk)


def recurrence_words(found: Recurrence) -> str:
    """`open`, `3 open`, `2 open, 1 deferred`."""
    if len(found.squawks) == 1:
        return found.last.state.value
    counts = ((state, found.count(state)) for state in (SquawkState.OPEN, SquawkState.DEFERRED))
    return ", ".join(f"{count} {state}" for state, count in counts if count)


def run_words(run: RunSummary) -> str:
    """What came of a run: `complete, 1 squawk, 2 cautions`."""
    counts = ((run.stops, Noun.STOP), (run.squawks, Noun.SQUAWK), (run.cautions, Noun.CAUTION))
    return ", ".join((run.state.value, *(counted(count, noun) for count, noun in counts if count)))


def open_words(airplanes: Sequence[AirplaneReport]) -> str:
    """`5 squawks not closed on 2 items`: one squawk for each run that raised it."""
    items = sum(len(airplane.recurrences) for airplane in airplanes)
    found = sum(airplane.open_squawks for airplane in airplanes)
    return (
        f"{counted(found, Noun.SQUAWK)} not closed on {counted(items, Noun.ITEM)}"
        if items
        else "no squawk open"
    )


def moved_words(airplanes: Sequence[AirplaneReport]) -> str:
    """How many series have moved, over all of them."""
    trends = [trend for airplane in airplanes for trend in airplane.trends.trends]
    moved = sum(trend.verdict.has_moved for trend in trends)
    return f"{moved or 'none'} of {len(trends)} series moved"


def steady_words(airplane: AirplaneReport) -> str:
    """What stands where no series has moved."""
    count = len(airplane.trends.trends)
    return (
        f"None of {count} series moved."
        if count
        else "These runs name no airplane, so nothing is trended over them."
    )
