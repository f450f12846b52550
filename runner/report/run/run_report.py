"""What a report says of one run, as data: the record joined with its check, airplane, squawks and trends."""

from collections.abc import Iterator
from dataclasses import dataclass

from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Check, Item
from runner.core.plan import Plan
from runner.core.record.answer_history import AnswerHistory, RunState
from runner.core.record.entry import NoteRecorded, NoteTyped
from runner.core.record.fold import fold
from runner.core.record.given_answer import GivenAnswer, stop_squawk_name
from runner.core.record.progress import Progress
from runner.core.record.run_summary import Summary, summarise
from runner.errors import RecordError
from runner.language.catalogue import Outcome
from runner.logbook.carry.run_export import Attachments
from runner.logbook.record.header import NO_AIRPLANE, RunHeader
from runner.logbook.record.record import entries_in, header_of, read_whole, run_chain
from runner.logbook.record.record_shelf import Shelf
from runner.logbook.squawk.maintenance_record import Noted, Remark
from runner.logbook.squawk.squawk_record import Squawk, SquawkState, squawks_in
from runner.report.fleet.airplane_trend import AirplaneTrends, trends_of
from runner.report.origin import Maker, RecordProof
from runner.report.run.run_incident import Incident, incidents_of
from runner.report.run.run_item import ItemState, RunItem, SpinUpTime, run_items, spin_up_times
from runner.report.run.run_stop import RunStop, left_moved, run_stops
from runner.report.run.shared_feed import SharedFeed, shared_feeds


@dataclass(frozen=True, slots=True)
class Clip:
    """A note's sound, or why it is not there."""

    name: str
    content: bytes
    """Empty when it is lost."""
    fault: str | None


@dataclass(frozen=True, slots=True)
class RunNote:
    """What was said or typed into the record during an item."""

    at: float
    item: str
    """Empty when no item was in force."""
    seconds: float
    clip: Clip | None
    """None where the note was typed."""
    text: str = ""


@dataclass(frozen=True, slots=True)
class RunSquawk:
    """A squawk with all that helps to find its fault."""

    item: Item
    given: GivenAnswer
    feeds: tuple[SharedFeed, ...]
    state: SquawkState
    remarks: tuple[tuple[Remark, Clip | None], ...]
    """What people recorded about it since, each with its sound clip if it has one."""


@dataclass(frozen=True, slots=True)
class Basis:
    """What the parts of a run give: its check, its airplane, and its plan."""

    check: Check
    airplane: Airplane | None
    """None for a check that is for any airplane."""
    plan: Plan
    header: RunHeader | None = None
    """That of the run, where it has been read already."""

    @property
    def airplane_title(self) -> str:
        """What the airplane is, or that there is none."""
        return NO_AIRPLANE if self.airplane is None else self.airplane.title


@dataclass(frozen=True, slots=True)
class RunReport:
    """Everything that is said of one run."""

    header: RunHeader
    basis: Basis
    state: RunState
    ended_at: float | None
    summary: Summary
    items: tuple[RunItem, ...]
    squawks: tuple[RunSquawk, ...]
    spin_ups: tuple[SpinUpTime, ...]
    notes: tuple[RunNote, ...]
    incidents: tuple[Incident, ...]
    battery_warned_at: float | None
    stops: tuple[RunStop, ...]
    """Remedied, not remedied, or taken back, in time order."""
    left_moved: tuple[str, ...]
    """What was moved and is not on record as back."""
    selector_left_at: str
    """Where the selector was left, if that is not where it belongs; empty when it is."""
    trends: AirplaneTrends
    proof: RecordProof
    maker: Maker

    def with_outcome(self, outcome: Outcome) -> tuple[RunItem, ...]:
        """Items whose standing answer came to this."""
        return tuple(item for item in self.items if item.outcome is outcome)

    def in_state(self, state: ItemState) -> tuple[RunItem, ...]:
        """Items that this became of."""
        return tuple(item for item in self.items if item.state is state)

    @property
    def put_off(self) -> tuple[RunItem, ...]:
        """Items that were put off, whether they came back or not."""
        return tuple(item for item in self.items if item.put_off_at)

    @property
    def hasty(self) -> tuple[RunItem, ...]:
        """Items whose standing answer came faster than a person can look."""
        return tuple(item for item in self.items if item.standing is not None and item.standing.is_hasty)

    @property
    def corrections(self) -> int:
        """Answers that were taken back."""
        return sum(not given.stands for item in self.items for given in item.given)


def run_report(shelf: Shelf, attachments: Attachments, run: str, basis: Basis, maker: Maker) -> RunReport:
    """The report of a run out of its record, as far as that is whole.

    RecordError when the record does not fit the check, or has an entry that this eyesout does not know.
    """
    reading = read_whole(shelf, run_chain(shelf, run))
    header, entries = basis.header or header_of(shelf, run), entries_in(reading)
    progress = fold(basis.plan, entries)
    history = progress.history
    items = run_items(progress)
    return RunReport(
        header=header,
        basis=basis,
        state=history.state,
        ended_at=history.ended_at,
        summary=summarise(progress, entries[-1].at if entries else None),
        items=items,
        squawks=tuple(_squawks(items, history, basis, squawks_in(shelf, run), attachments)),
        spin_ups=tuple(spin_up_times(progress)),
        notes=tuple(_notes(progress.notes, attachments)),
        incidents=incidents_of(entries),
        battery_warned_at=None if progress.battery_warning is None else progress.battery_warning.at,
        stops=run_stops(progress),
        left_moved=left_moved(progress),
        selector_left_at=_left_at(progress),
        trends=trends_of(shelf, header.registration, {run: basis.check}, {run: header}),
        proof=RecordProof(
            len(reading.lines), reading.lines[-1].digest if reading.lines else "", reading.fault
        ),
        maker=maker,
    )


def _squawks(
    items: tuple[RunItem, ...],
    history: AnswerHistory,
    basis: Basis,
    kept: tuple[Squawk, ...],
    attachments: Attachments,
) -> Iterator[RunSquawk]:
    followed = {squawk.item: squawk for squawk in kept}
    for item, given in (*_answered_squawks(items), *_stop_squawks(items, history)):
        found = followed.get(given.item)
        yield RunSquawk(
            item,
            given,
            shared_feeds(basis.check, basis.airplane, item.name),
            SquawkState.OPEN if found is None else found.state,
            tuple((remark, _clip_of(remark, attachments)) for remark in (found.records if found else ())),
        )


def _answered_squawks(items: tuple[RunItem, ...]) -> Iterator[tuple[Item, GivenAnswer]]:
    for item in items:
        given = item.standing
        if given is not None and given.outcome is Outcome.SQUAWK:
            yield item.item, given


def _stop_squawks(items: tuple[RunItem, ...], history: AnswerHistory) -> Iterator[tuple[Item, GivenAnswer]]:
    """Those that the pilot made of stops; the safe answer that followed does not take them away."""
    for item in items:
        for given in history.given.get(stop_squawk_name(item.item.name), ()):
            if given.stands:
                yield item.item, given


def _clip_of(remark: Remark, attachments: Attachments) -> Clip | None:
    return _clip(remark.clip, attachments) if isinstance(remark, Noted) and remark.clip else None


def _notes(notes: tuple[NoteRecorded | NoteTyped, ...], attachments: Attachments) -> Iterator[RunNote]:
    for note in notes:
        if isinstance(note, NoteTyped):
            yield RunNote(note.at, note.item, 0.0, None, note.text)
        else:
            yield RunNote(note.at, note.item, note.seconds, _clip(note.clip, attachments))


def _clip(name: str, attachments: Attachments) -> Clip:
    try:
        return Clip(name, attachments.clip(name), None)
    except RecordError as error:
        return Clip(name, b"", str(error))


def _left_at(progress: Progress) -> str:
    """The selector's last position, if it is not the normal one."""
    if not progress.positions or progress.positions[-1].position == progress.plan.normal_position:
        return ""
    return progress.positions[-1].position
