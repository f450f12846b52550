"""What a report says of one airplane or of a fleet, as data: last runs, squawks, work done, trends."""

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from runner.errors import FileError, RecordError
from runner.logbook.list.run_list import count_of, runs
from runner.logbook.record.record_shelf import Shelf
from runner.logbook.record.summary_table import RunSummary
from runner.logbook.squawk.maintenance_record import Filed, Serviced, filed_about, services_of
from runner.logbook.squawk.squawk_record import Squawk, SquawkState, squawks
from runner.report.fleet.airplane_trend import AirplaneTrends, trends_of
from runner.report.origin import Maker
from runner.report.run.run_report import Basis
from runner.report.run.shared_feed import SharedFeed, shared_feeds

NEWEST: Final = 12
"""Runs that are listed one by one."""

BasisOf = Callable[[str], Basis]
"""Gives the parts that a run was begun with; FileError when they cannot be read any more."""


@dataclass(frozen=True, slots=True)
class Recurrence:
    """The squawks of one item that are not closed: what a mechanic sees as one discrepancy."""

    item: str
    challenge: str
    """As the newest check words it; the item's name where that check no longer has it."""
    expected: str
    squawks: tuple[Squawk, ...]
    """Open and deferred ones, oldest first; never empty."""
    feeds: tuple[SharedFeed, ...]

    @property
    def last(self) -> Squawk:
        """The newest of them."""
        return self.squawks[-1]

    def count(self, state: SquawkState) -> int:
        """How many are in this state."""
        return sum(squawk.state is state for squawk in self.squawks)


@dataclass(frozen=True, slots=True)
class AirplaneReport:
    """Everything that is said of one tail."""

    registration: str
    title: str
    """The airplane file's title, or its name when the file can no longer be read."""
    count: int
    """All of its runs on this shelf."""
    unfinished: int
    runs: tuple[RunSummary, ...]
    """The newest, newest first."""
    recurrences: tuple[Recurrence, ...]
    """What is not closed, the item that squawked last first."""
    closed: int
    services: tuple[Serviced, ...]
    """Work done, newest first."""
    trends: AirplaneTrends

    @property
    def newest(self) -> RunSummary:
        """Its last run."""
        return self.runs[0]

    @property
    def is_invented(self) -> bool:
        """Whether any of these runs was made by a demo or by the generator of histories."""
        return any(run.is_invented for run in self.runs)

    @property
    def open_squawks(self) -> int:
        """Squawks that are not closed, deferred ones as well."""
        return sum(len(one.squawks) for one in self.recurrences)


@dataclass(frozen=True, slots=True)
class FleetReport:
    """One airplane or several, in one paper."""

    airplanes: tuple[AirplaneReport, ...]
    maker: Maker

    @property
    def is_invented(self) -> bool:
        """Whether any of it is invented."""
        return any(airplane.is_invented for airplane in self.airplanes)


def fleet_report(
    shelf: Shelf, registrations: tuple[str, ...], basis_of: BasisOf, maker: Maker
) -> FleetReport:
    """The report of these tails, in this order; RecordError when one has no runs."""
    filed = filed_about(shelf)
    return FleetReport(tuple(airplane_report(shelf, each, basis_of, filed) for each in registrations), maker)


def airplane_report(
    shelf: Shelf, registration: str, basis_of: BasisOf, filed: Sequence[Filed] | None = None
) -> AirplaneReport:
    """The report of one tail; RecordError when it has no runs.

    `filed` is all that the shelf has on file, where the caller has read it already.
    """
    newest = runs(shelf, airplane=registration, limit=NEWEST)
    basis = _basis(newest[0].run, basis_of)
    known = squawks(shelf, airplane=registration, filed=filed)
    count, unfinished = count_of(shelf, registration)
    return AirplaneReport(
        registration=registration,
        title=newest[0].airplane if basis is None else basis.airplane_title,
        count=count,
        unfinished=unfinished,
        runs=newest,
        recurrences=tuple(sorted(_recurrences(known, basis), key=lambda one: -one.last.at)),
        closed=sum(squawk.state is SquawkState.CLOSED for squawk in known),
        services=tuple(reversed(services_of(shelf, registration))),
        trends=trends_of(shelf, registration, {} if basis is None else {newest[0].run: basis.check}),
    )


def _basis(run: str, basis_of: BasisOf) -> Basis | None:
    """The newest run's check and airplane, if this eyesout can still read them."""
    try:
        return basis_of(run)
    except (FileError, RecordError):
        return None


def _recurrences(known: tuple[Squawk, ...], basis: Basis | None) -> Iterator[Recurrence]:
    by_item: dict[str, list[Squawk]] = defaultdict(list)
    for squawk in known:
        if squawk.state is not SquawkState.CLOSED:
            by_item[squawk.item].append(squawk)
    items = {} if basis is None else {item.name: item for item in basis.check.items}
    for name, found in by_item.items():
        item = items.get(name)
        feeds = () if basis is None or item is None else shared_feeds(basis.check, basis.airplane, name)
        yield Recurrence(
            name,
            name if item is None else item.challenge,
            "" if item is None else item.body.expected(),
            tuple(found),
            feeds,
        )
