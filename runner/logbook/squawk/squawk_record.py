"""Squawks: raised by the answers that stand in runs, followed by the records that people added since."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from runner.core.record.given_answer import AnswerKind
from runner.errors import RecordError
from runner.logbook.list.run_list import registrations_of
from runner.logbook.record.record_shelf import Shelf
from runner.logbook.squawk.maintenance_record import Closed, Deferred, Filed, Remark, filed_about


class SquawkState(StrEnum):
    """What became of a squawk so far."""

    OPEN = "open"
    DEFERRED = "deferred"
    CLOSED = "closed"


@dataclass(frozen=True, slots=True)
class Squawk:
    """A discrepancy raised in a run, for maintenance."""

    run: str
    item: str
    registration: str
    airplane: str
    at: float
    kind: AnswerKind
    answer: str
    """The response's label, or the number as it was said."""
    value: float | None
    unit: str
    records: tuple[Remark, ...]
    """Oldest first."""

    @property
    def name(self) -> str:
        """`RUN/ITEM`, as typed to mean this squawk."""
        return f"{self.run}/{self.item}"

    @property
    def state(self) -> SquawkState:
        """What the last record that changes it says; a note changes nothing."""
        for record in reversed(self.records):
            if isinstance(record, Closed):
                return SquawkState.CLOSED
            if isinstance(record, Deferred):
                return SquawkState.DEFERRED
        return SquawkState.OPEN


def squawks(
    shelf: Shelf, *, airplane: str | None = None, filed: Sequence[Filed] | None = None
) -> tuple[Squawk, ...]:
    """All squawks, oldest first, of all airplanes or of one (by registration or file name).

    `filed` is all that the shelf has on file, where the caller has read it already.
    """
    registrations = [] if airplane is None else registrations_of(shelf, airplane)
    where = "" if airplane is None else f"AND a.registration IN ({', '.join('?' for _ in registrations)})"
    return _select(
        shelf, f"{where} ORDER BY a.at", registrations, filed_about(shelf) if filed is None else filed
    )


def squawks_in(shelf: Shelf, run: str) -> tuple[Squawk, ...]:
    """The squawks of one run."""
    return _select(shelf, "AND r.id = ? ORDER BY a.at", [run], filed_about(shelf, run))


def find_squawk(shelf: Shelf, run: str, item: str) -> Squawk:
    """The squawk of an item; RecordError lists what the run has."""
    found = squawks_in(shelf, run)
    for squawk in found:
        if squawk.item == item:
            return squawk
    known = ", ".join(squawk.name for squawk in found) or "none"
    raise RecordError(f'run {run} has no squawk "{item}"; it has: {known}')


def _select(
    shelf: Shelf, tail: str, parameters: Sequence[object], filed: Iterable[Filed]
) -> tuple[Squawk, ...]:
    records: dict[tuple[str, str], list[Remark]] = {}
    for one in filed:
        if isinstance(one.record, Remark):
            records.setdefault((one.subject, one.record.item), []).append(one.record)
    rows = shelf.rows(
        "SELECT r.id, a.item, r.registration, r.airplane, a.at, a.kind, a.answer, a.value, a.unit "  # noqa: S608 - constants
        f"FROM answer a JOIN run r ON r.number = a.run WHERE a.outcome = 'squawk' {tail}",
        parameters,
    )
    kinds = {row[5]: AnswerKind(row[5]) for row in rows}
    found = []
    for run, item, registration, airplane, at, kind, answer, value, unit in rows:
        about = tuple(records.get((run, item), ()))
        found.append(Squawk(run, item, registration, airplane, at, kinds[kind], answer, value, unit, about))
    return tuple(found)
