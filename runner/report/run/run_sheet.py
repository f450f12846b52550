"""The report of a run as a sheet for a mechanic and an inspector: what was found first, then all answers."""

from collections.abc import Iterator

from runner.language.catalogue import STANDING_CAUTION, Outcome, Word
from runner.logbook.list.entry_wording import since
from runner.logbook.squawk.squawk_record import SquawkState
from runner.report.draw.paper_sheet import (
    BLANKS,
    OF_BLANKS,
    POINTER,
    Block,
    Columns,
    Discrepancy,
    Facts,
    Heading,
    Sheet,
    Top,
    Words,
)
from runner.report.draw.stamp import both_stamps, duration_words, utc_stamp
from runner.report.run.run_item import ItemState, RunItem
from runner.report.run.run_report import RunReport, RunSquawk
from runner.report.run.run_wording import (
    STATES,
    answer_words,
    battery_words,
    haste_words,
    left_moved_words,
    remark_words,
    result_words,
)


def run_sheet(report: RunReport) -> Sheet:
    """The sheet; what does not fit on one page at the smallest letters goes onto a second."""
    header = report.header
    return Sheet(
        title=f"{header.registration}, {report.basis.check.title}, {utc_stamp(header.started_at)}",
        at=report.maker.at,
        foot=f"{STANDING_CAUTION} Run {header.run}.",
        blocks=tuple(_blocks(report)),
    )


def _blocks(report: RunReport) -> Iterator[Block]:
    header = report.header
    yield Top(header.registration, report.basis.check.title, STATES[report.state], result_words(report))
    yield from _marks(report)
    yield _facts(report)
    if report.stops:
        yield Heading("Stops")
        yield from map(Words, _stops(report))
    yield Heading("Squawks")
    yield from (_discrepancy(squawk, report) for squawk in report.squawks)
    yield Words(f"{POINTER} {OF_BLANKS}" if report.squawks else "No squawk was raised.")
    if noticed := list(_noticed(report)):
        yield Heading("To be noticed")
        yield from map(Words, noticed)
    yield Heading("Measured")
    yield _measured(report)
    yield Heading("Answered")
    yield Words("; ".join(_named(report)) + "." if any(_named(report)) else "No item was answered by name.")
    yield Heading("Record")
    yield from map(Words, _record(report))


def _marks(report: RunReport) -> Iterator[Words]:
    if report.header.is_invented:
        yield Words("Invented: made by a demonstration or by the generator of histories.", is_framed=True)
    if report.proof.fault is not None:
        yield Words(f"Record not whole: {report.proof.fault}. Below is what comes before.", is_framed=True)
    if report.selector_left_at:
        words = f"Warning: the selector was last reported at {report.selector_left_at}"
        yield Words(f"{words}, not at {report.basis.plan.normal_position}.", is_bold=True, is_framed=True)
    if words := left_moved_words(report):
        yield Words(f"Warning: {words}.", is_bold=True, is_framed=True)


def _stops(report: RunReport) -> Iterator[str]:
    """Each with its place in the run, what was found, and what became of it."""
    start = report.header.started_at
    for one in report.stops:
        yield f"STOP {since(one.stop.at, start)}: {one.item.challenge}: {one.stop.what}; {one.became(start)}"


def _facts(report: RunReport) -> Facts:
    header, ended = report.header, report.ended_at
    oat = "not given" if header.oat_celsius is None else f"{header.oat_celsius:g} degrees Celsius"
    after = "" if ended is None else f"{utc_stamp(ended)}, after {duration_words(ended - header.started_at)}"
    return Facts(
        (
            ("Begun", both_stamps(header.started_at, report.maker.zone)),
            ("Ended", after or "still open in the record"),
            ("Pilot", header.pilot or "not named"),
            ("Airplane", report.basis.airplane_title),
            ("Outside air", oat),
            ("Battery", battery_words(report)),
        )
    )


def _discrepancy(squawk: RunSquawk, report: RunReport) -> Discrepancy:
    zone = report.maker.zone
    raised = f"{squawk.state}; raised {both_stamps(squawk.given.at, zone)}"
    lines = [
        f"{answer_words(squawk.given)}, expected {squawk.item.body.expected()}",
        f"{raised}, {since(squawk.given.at, report.header.started_at)} into the check",
        *([f"shared: {'; '.join(map(str, squawk.feeds))}"] if squawk.feeds else []),
        *(f"{utc_stamp(remark.at)}, {remark.by}: {remark_words(remark)}" for remark, _ in squawk.remarks),
    ]
    blanks = () if squawk.state is SquawkState.CLOSED else BLANKS
    return Discrepancy(squawk.item.challenge, tuple(lines), blanks)


def _noticed(report: RunReport) -> Iterator[str]:
    start = report.header.started_at
    for item in report.with_outcome(Outcome.CAUTION):
        if item.standing is not None:
            yield f"caution: {item.item.challenge}: {answer_words(item.standing)}, {_expected(item)}"
    for state in (ItemState.UNABLE, ItemState.OPEN):
        if names := [item.item.challenge for item in report.in_state(state)]:
            yield f"{state}: {'; '.join(names)}"
    for item in report.put_off:
        yield f"put off: {item.item.challenge}, at {', '.join(since(at, start) for at in item.put_off_at)}"
    for item in report.hasty:
        if item.standing is not None:
            yield f"faster than a look: {item.item.challenge}, answered {haste_words(item.standing)}"


def _expected(item: RunItem) -> str:
    return f"expected {item.item.body.expected()}"


def _measured(report: RunReport) -> Columns:
    """Readings and spin-ups, with those that a correction took back."""
    rows = [
        (
            since(given.at, report.header.started_at),
            item.item.challenge,
            answer_words(given),
            item.item.body.expected(),
            (given.outcome or Word.UNABLE) if given.stands else "corrected",
        )
        for item in report.items
        if item.item.body.is_measured
        for given in item.given
    ]
    return Columns(("Time", "Challenge", "Answer", "Expected", "Outcome"), (9, 31, 21, 29, 10), rows)


def _named(report: RunReport) -> Iterator[str]:
    """Every other item in a few words: its challenge and its answers, one that was taken back in brackets."""
    for item in report.items:
        if item.item.body.is_measured or not item.given:
            continue
        words = [
            answer_words(given) if given.stands else f"({answer_words(given)}, corrected)"
            for given in item.given
        ]
        mark = "" if item.outcome in (None, Outcome.PASS) else f", {item.outcome}"
        yield f"{item.item.challenge}: {' '.join(words)}{mark}"


def _record(report: RunReport) -> Iterator[str]:
    header, proof, maker = report.header, report.proof, report.maker
    yield f"Run {header.run}, begun with {header.made_with or 'a tool not in the record'}."
    yield f"SHA-256 over {proof.lines} lines: {proof.sha256 or 'none'}"
    yield f"Sheet made {both_stamps(maker.at, maker.zone)} by {maker.tool}."
    if maker.witness.words():
        yield f"{maker.witness.words()}."
