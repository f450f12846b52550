"""A check as data: sections of items, each with what counts as its answer. Frozen, look-ups only."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, ClassVar, Final

from runner.document import Node
from runner.errors import Place
from runner.language.catalogue import Outcome
from runner.language.meaning import Meaning

if TYPE_CHECKING:  # what answers these questions is built on this module
    from runner.checklist.format.scope import Scope
    from runner.checklist.kind.numbered import Numbered
    from runner.checklist.kind.spin_up import SpinUp

SILENCE_SECONDS: Final = 30.0
"""After so long without an answer a question is asked once more, where an item's author says nothing else."""


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


class Body:
    """What an item asks for: every question that the product puts to a kind of item, with the usual answer.

    Each kind gives its own answers in its own file of `checklist/kind`; nothing else tells kinds apart.
    """

    __slots__ = ()

    key: ClassVar[str]
    """What stands in front of it in a check file."""
    claim: ClassVar[str] = ""
    """What it says of an airplane, so that a check for any airplane may not; empty where it says nothing."""
    is_looked_at: ClassVar[bool] = False
    """It wants a look at an instrument where its author does not say."""
    is_deed: ClassVar[bool] = False
    """Something is done: it may move the selector, and put back what was moved."""
    gives_power: ClassVar[bool] = False
    """Its answer may start a gyro's clock."""
    is_fork: ClassVar[bool] = False
    """It only decides which items follow."""
    is_call: ClassVar[bool] = False
    """The completion call, which ends the check."""
    moves_nothing: ClassVar[str] = ""
    """Why it moves no switch; empty where it may."""

    @classmethod
    def label(cls) -> str:
        """Its name on the screen."""
        return cls.key.replace("_", "-")

    @classmethod
    def read(cls, _node: Node, _scope: Scope) -> Body:
        """What the author wrote under the kind's key; FileError when it cannot work."""
        raise NotImplementedError

    @property
    def number(self) -> Numbered | None:
        """The same, where it is answered with a number."""
        return None

    @property
    def clock(self) -> SpinUp | None:
        """The same, where it is no question asked in turn, but a clock that runs beside them."""
        return None

    @property
    def selects(self) -> str | None:
        """The selector position that it leaves the airplane in; None where it moves no selector."""
        return None

    def selecting(self, _position: str) -> Body:
        """The same, moving the selector there; for a deed only."""
        raise NotImplementedError

    def shows(self, proves: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """What is alive, and what dead: by the kind itself, else what `proves` of the item names."""
        return proves, ()

    @property
    def switches(self) -> tuple[str, ...] | None:
        """Switches without which its answer would prove nothing; None where it asks for no such thing."""
        return None

    def named(self) -> tuple[Response, ...]:
        """Its named answers; empty for a number."""
        return ()

    @property
    def can_stop(self) -> bool:
        """Whether an answer is danger."""
        return any(each.outcome is Outcome.STOP for each in self.named())

    def letters(self, response: Response) -> str:
        """Letters that would do for a named answer's key, the best first: initials, then all of its label."""
        words = response.label.lower()
        return "".join(word[0] for word in words.split()) + words

    def keyed(self, _keys: Mapping[str, str]) -> Body:
        """The same with these keys for its named answers, by their labels."""
        return self

    def sayings(self, _name: str) -> Iterator[tuple[str, Meaning]]:
        """What may be said for it while it is asked, in normal form; `_name` is the item's.

        ValueError for a phrase that has no words.
        """
        return iter(())

    def said(self, answer: str) -> str:
        """An answer on record, as it is read back."""
        return answer

    def read_backs(self) -> Iterator[tuple[Outcome, str]]:
        """What may have to be read back, the likeliest first."""
        return ((each.outcome, each.label) for each in self.named() if each.outcome is not Outcome.PASS)

    def expected(self) -> str:
        """What is asked for, in a report: the answers that pass."""
        return " or ".join(each.label for each in self.named() if each.outcome is Outcome.PASS)

    def figures(self) -> Mapping[str, Any]:
        """What is expected in figures, by their names in a report's JSON; empty where there are none."""
        return {}

    @property
    def is_measured(self) -> bool:
        """What it is answered with is a figure, which stands in a report's table."""
        return self.number is not None or self.clock is not None


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
        return condition if self.body.clock is None else (*condition, self.body.clock.starts_on)

    @property
    def responses(self) -> tuple[Response, ...]:
        """The named answers; empty for a number."""
        return self.body.named()


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
        return ((item, item.body.clock) for item in self.items if item.body.clock is not None)
