"""A check as data: sections of items, each with what counts as its answer. Frozen, look-ups only."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from typing import Final

from runner.errors import Place

SILENCE_SECONDS: Final = 30.0
"""After so long without an answer an item is asked once more, where its author says nothing else."""


class Outcome(StrEnum):
    """What an answer means for the airplane."""

    PASS = "pass"  # noqa: S105 - a grade, no password
    CAUTION = "caution"
    SQUAWK = "squawk"
    STOP = "stop"
    """Danger: the run stays at the item until it is remedied; it raises no squawk by itself."""


class Unit(StrEnum):
    """Units that a reading may have; the value is the spoken plural."""

    VOLTS = "volts"
    AMPS = "amps"
    SECONDS = "seconds"
    DEGREES = "degrees"
    PERCENT = "percent"


@dataclass(frozen=True, slots=True)
class Response:
    """One answer that an item knows."""

    label: str
    """What the screen and the record show: `left out`."""
    phrases: tuple[str, ...]
    """What may be said for it, lower case words without punctuation."""
    outcome: Outcome = Outcome.PASS
    key: str = ""
    """The one key that gives this answer, lower case; unique within the item."""


@dataclass(frozen=True, slots=True)
class Band:
    """Values from low to high, both included."""

    low: Decimal
    high: Decimal

    def __contains__(self, number: Decimal) -> bool:
        return self.low <= number <= self.high


@dataclass(frozen=True, slots=True)
class Action:
    """Do it, then say so. May move the selector."""

    responses: tuple[Response, ...]
    selects: str | None = None
    """The selector position that this action leaves the airplane in."""


@dataclass(frozen=True, slots=True)
class NamedState:
    """One of several named responses, such as lamps: both, left out, right out."""

    responses: tuple[Response, ...]


@dataclass(frozen=True, slots=True)
class Dead:
    """A load that must show no life; life is a squawk."""

    responses: tuple[Response, ...]
    loads: tuple[str, ...]
    switches: tuple[str, ...] = ()
    """What must be switched on for the answer to prove anything; empty for loads without a switch."""


@dataclass(frozen=True, slots=True)
class Partial:
    """An instrument of which one part lives while another is dead."""

    responses: tuple[Response, ...]
    alive: tuple[str, ...]
    dead: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """A question whose answer decides which later items apply (`Item.when`)."""

    responses: tuple[Response, ...]


@dataclass(frozen=True, slots=True)
class Call:
    """The completion call, always the last item."""

    responses: tuple[Response, ...]


@dataclass(frozen=True, slots=True)
class Reading:
    """A number with a unit, judged against bands."""

    unit: Unit
    resolution: Decimal
    """Smallest step that the gauge shows, such as 0.1."""
    pass_band: Band
    caution_band: Band | None
    """Values outside the pass band but inside this one are a caution, anything else a squawk."""
    plausible: Band
    """Values that can be said at all; the phrases in force are generated from it."""
    stop_below: Decimal | None = None
    """A value under this one stops the run."""
    stop_above: Decimal | None = None
    """A value over this one stops the run."""

    def outcome(self, number: Decimal) -> Outcome:
        """PASS, CAUTION, SQUAWK or STOP for a value."""
        if self.is_under_floor(number):
            return Outcome.STOP
        if self.stop_above is not None and number > self.stop_above:
            return Outcome.STOP
        if number in self.pass_band:
            return Outcome.PASS
        if self.caution_band is not None and number in self.caution_band:
            return Outcome.CAUTION
        return Outcome.SQUAWK

    def is_under_floor(self, number: Decimal) -> bool:
        """Whether the value is so low that it stops the run."""
        return self.stop_below is not None and number < self.stop_below


@dataclass(frozen=True, slots=True)
class SpinUp:
    """A gyro's clock: starts with the answer of another item, ends on its own phrase."""

    gyro: str
    """The gyro's name in the airplane file."""
    starts_on: str
    """Name of the item whose answer starts the clock (at the onset of that answer)."""
    pulled: Response
    stuck: Response
    """Said when the flag does not pull; in force from the limit on, always a squawk."""
    advise_seconds: float
    limit_seconds: float


Body = Action | NamedState | Reading | SpinUp | Dead | Partial | Choice | Call


@dataclass(frozen=True, slots=True)
class Condition:
    """An item applies only when an earlier item was answered with one of these labels."""

    item: str
    labels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Item:
    """One challenge and what counts as its response."""

    name: str
    challenge: str
    body: Body
    why: str
    """The reason, spoken on "why"."""
    place: Place
    critical: bool = False
    """May be neither skipped nor put off."""
    restores: bool = False
    """Puts the selector back; asked for even when the run is abandoned; implies critical."""
    looks: bool = False
    """Needs a look at an instrument: an answer in under a second is marked."""
    when: Condition | None = None
    proves: tuple[str, ...] = ()
    """Loads of the airplane that this item shows to be alive (or dead, for Dead and Partial)."""
    moves: tuple[str, ...] = ()
    """Switches that this item takes out of their place, from the moment that it is asked."""
    returns: tuple[str, ...] = ()
    """Switches that this item puts back; it is asked on every way out while one of them is moved."""
    remedy: str = ""
    """What to do about a stop: the author's sentence, spoken and shown until the answer is safe."""
    silence_seconds: float = SILENCE_SECONDS
    """After this long without an answer the item is asked once more."""

    @property
    def hangs_on(self) -> tuple[str, ...]:
        """Names of the items whose answers decide whether this one applies."""
        condition = () if self.when is None else (self.when.item,)
        return (*condition, self.body.starts_on) if isinstance(self.body, SpinUp) else condition

    @property
    def responses(self) -> tuple[Response, ...]:
        """The named answers; empty for a reading."""
        if isinstance(self.body, Reading):
            return ()
        if isinstance(self.body, SpinUp):
            return (self.body.pulled, self.body.stuck)
        return self.body.responses


@dataclass(frozen=True, slots=True)
class Section:
    """A chunk of the check tied to one task; ten items or fewer is the lint's limit."""

    title: str
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Check:
    """One check file."""

    name: str
    """The file's stem, as typed after `eyesout run`."""
    title: str
    airplane: str
    """The airplane file that it is for, as its author names it; empty for any airplane."""
    cautions: tuple[str, ...]
    """Spoken before the start."""
    sections: tuple[Section, ...]
    pronounce: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """Words with their ARPAbet pronunciations, for words that no dictionary has."""
    airplane_place: Place | None = field(default=None, compare=False)
    """Where the airplane is named; None for any airplane."""
    items: tuple[Item, ...] = field(init=False, repr=False, compare=False)
    """All items in order."""
    _places: Mapping[str, tuple[int, Section]] = field(init=False, repr=False, compare=False)
    _dependents: Mapping[str, tuple[Item, ...]] = field(init=False, repr=False, compare=False)
    _returning: Mapping[str, tuple[int, ...]] = field(init=False, repr=False, compare=False)
    restoring: tuple[int, ...] = field(init=False, repr=False, compare=False)
    """Numbers of the items that put the selector back."""

    def __post_init__(self) -> None:
        seated = [(section, item) for section in self.sections for item in section.items]
        places: dict[str, tuple[int, Section]] = {}
        dependents: dict[str, list[Item]] = {}
        returning: dict[str, list[int]] = {}
        for number, (section, item) in enumerate(seated):
            places.setdefault(item.name, (number, section))
            for name in item.hangs_on:
                dependents.setdefault(name, []).append(item)
            for switch in item.returns:
                returning.setdefault(switch, []).append(number)
        restoring = tuple(number for number, (_, item) in enumerate(seated) if item.restores)
        object.__setattr__(self, "items", tuple(item for _, item in seated))
        object.__setattr__(self, "_places", places)
        object.__setattr__(self, "_dependents", {name: tuple(each) for name, each in dependents.items()})
        object.__setattr__(self, "_returning", {name: tuple(each) for name, each in returning.items()})
        object.__setattr__(self, "restoring", restoring)

    def __contains__(self, name: str) -> bool:
        return name in self._places

    def item(self, name: str) -> Item:
        """The item of that name; KeyError when there is none."""
        return self.items[self._places[name][0]]

    def number(self, name: str) -> int:
        """Where the item stands among all items, from 0; KeyError when there is none of that name."""
        return self._places[name][0]

    def section_of(self, name: str) -> Section:
        """The section that holds the item; KeyError when there is none."""
        return self._places[name][1]

    def dependents(self, name: str) -> tuple[Item, ...]:
        """Items that an answer to this one makes apply, or whose clock it starts."""
        return self._dependents.get(name, ())

    def returning(self, switch: str) -> tuple[int, ...]:
        """Numbers of the items that put this switch back, in the order of the check."""
        return self._returning.get(switch, ())

    def clocks(self) -> Iterator[tuple[Item, SpinUp]]:
        """Every spin-up item with its body."""
        for item in self.items:
            if isinstance(item.body, SpinUp):
                yield item, item.body
