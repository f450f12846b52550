"""What can happen next in a run: everything that may be said, clocks that come due, notes that end.

Time is abstracted. All events of a walk have one time; a clock comes due when the walk says so, by moving
back its start, so that clocks may come due in any order and as often as the walk comes by. Of a reading's
values one of each meaning stands for all of them: the machine looks at a value's outcome, and at which
edge it passed, only.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal

from runner.core.ask.agenda import carry_on, spin_up_of, state_of
from runner.core.ask.phrases_now import phrases_in_force
from runner.core.event import Answered, Channel, Event, NoteEnded, Ticked
from runner.core.plan import Plan
from runner.core.record.progress import Progress
from runner.core.record.spin_up_clock import SpinUpClock
from runner.core.state import State
from runner.language.catalogue import Outcome
from runner.language.force import InForce
from runner.language.meaning import Corrected, Meaning, Stuck, Value

NOW = 1_000_000.0
"""The one time of all events, seconds since the epoch."""


@dataclass(frozen=True, slots=True)
class Happening:
    """One thing that can happen."""

    words: str
    """What the pilot said, or in brackets what happened."""
    event: Event
    progress: Progress
    """The progress to which it happens: for a clock that comes due, with an earlier start."""


@dataclass(frozen=True, slots=True)
class ProofWorld:
    """The plan of a walk, and what has been worked out about it."""

    plan: Plan
    _said: dict[int, tuple[InForce, tuple[tuple[str, Meaning], ...]]] = field(default_factory=dict)
    _spared: dict[str, frozenset[Decimal]] = field(default_factory=dict)

    def happenings(self, progress: Progress, turn: int) -> Iterator[Happening]:
        """Everything that can happen in this progress."""
        for words, meaning in self._sayable(phrases_in_force(progress)):
            event = Answered(NOW, turn, meaning, words, 1.0, NOW, Channel.KEYS)
            yield Happening(words, event, progress)
        yield from _clocks_due(progress, turn)
        if state_of(progress) is State.NOTING:
            yield Happening("(the note ends)", NoteEnded(NOW, "", 0.0), progress)

    def _sayable(self, in_force: InForce) -> tuple[tuple[str, Meaning], ...]:
        """One phrase for each meaning; the table is kept, so that its identity stays its own."""
        if id(in_force) not in self._said:
            self._said[id(in_force)] = (in_force, tuple(self._one_of_each(in_force.meanings)))
        return self._said[id(in_force)][1]

    def _one_of_each(self, meanings: Mapping[str, Meaning]) -> Iterator[tuple[str, Meaning]]:
        """A correction with its answer is the same as in two steps, which are walked."""
        first: dict[Meaning, str] = {}
        for phrase, meaning in meanings.items():
            if isinstance(meaning, Corrected):
                continue
            if not isinstance(meaning, Value) or meaning.number in self._spokesmen(meaning.item):
                first.setdefault(meaning, phrase)
        for meaning, phrase in first.items():
            yield phrase, meaning

    def _spokesmen(self, name: str) -> frozenset[Decimal]:
        """One value of each meaning for the reading of this name."""
        if name not in self._spared:
            body = self.plan.check.item(name).body.number
            assert body is not None  # noqa: S101 - only a number is answered by a value
            chosen: dict[tuple[Outcome, bool], Decimal] = {}
            for number in body.values():
                chosen.setdefault((body.outcome(number), number < body.pass_band.low), number)
            self._spared[name] = frozenset(chosen.values())
        return self._spared[name]


def _clocks_due(progress: Progress, turn: int) -> Iterator[Happening]:
    """A clock comes to its advise time or its limit; past that, its flag is stuck."""
    for clock in progress.open_clocks:
        item, body = spin_up_of(progress, clock)
        for seconds, words in ((body.advise_seconds, "advise time"), (body.limit_seconds, "limit")):
            due = _with_clock(progress, SpinUpClock(clock.item, NOW - seconds))
            yield Happening(f"({item.name} comes to its {words})", Ticked(NOW), due)
        past = SpinUpClock(clock.item, NOW - body.limit_seconds - 1, is_advised=True, is_limit_passed=True)
        late = _with_clock(progress, past)
        words = body.stuck.phrases[0]
        event = Answered(NOW, turn, Stuck(item.name), words, 1.0, NOW, Channel.KEYS)
        yield Happening(f"(after its limit) {words}", event, late)


def _with_clock(progress: Progress, clock: SpinUpClock) -> Progress:
    """The same with an open clock that began at another time: nothing else that is known of it changes."""
    after = replace(progress, clocks={**progress.clocks, clock.item: clock})
    carry_on(progress, after)
    return after
