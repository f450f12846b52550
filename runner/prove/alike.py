"""When two moments of a run are alike: what can follow is the same, so that a walk goes on from one of them.

Left out, since no row of the table goes another way for it: times, texts, the values and outcomes of answers
that nothing hangs on, superseded answers, notes, counts, hindrances of the voice, what was heard of a prompt,
whether a stop was squawked, what a prompt read back (`walk.py` denies it at once); once a check is abandoned,
everything but what it returns. A clock is running or ended: its advise time and its limit add a phrase for
its end (`happening.py`).

Left out as well: in which order things were moved. It decides one thing only, which of them is asked back
first, and that is told apart when it comes to it, by the item in force. Whatever is answered first, each
answer takes what it returns off the list and leaves the rest of the list and of the run as they were, so
that every order ends with the same: nothing out. (After a stop at which everything was put back,
corrections bring about any order at all: of sixteen moves more orders than could ever be walked.)

Bounds, so that the walk ends soon:
- Plain items (not critical, without a condition, moving, returning, stopping and deciding nothing) can be
  told from one another only while they are asked: of those put off only their number counts.
- At most MOST_PUT_OFF items are put off at the same time.
- Standby and notes are not followed inside the question whether to abandon, but before it.
- What was done last is kept apart from the kind of a moment, since it says only what a correction reopens:
  moments of one kind that differ in it are alike in all but their corrections, and those are followed from
  each (`walk.py`). So HISTORY corrections in a row are followed from every moment, longer rows of them from
  one moment of each kind only; and none is made before the run has come back to where it had already moved
  something.
"""

from collections.abc import Hashable, Iterable, Iterator
from dataclasses import dataclass

from runner.checklist.format.check import Item
from runner.core.ask.agenda import item_in_force, state_of
from runner.core.plan import Plan
from runner.core.record.danger_stop import Stop
from runner.core.record.progress import Progress
from runner.core.state import FINAL, State
from runner.language.catalogue import Outcome, Word
from runner.prove.owing import Owing, returned_by

MOST_PUT_OFF = 1
HISTORY = 1
CORRECTABLE = frozenset({State.ASKING, State.STOPPED, State.WAITING, State.RESTORING})
"""States in which a correction reopens something; elsewhere it is not heard, or drops a question."""


@dataclass(frozen=True, slots=True)
class Roles:
    """What the items of a check mean to one another."""

    plan: Plan
    deciding: frozenset[str]
    """Named by the condition of another item: the very answer counts."""
    starting: frozenset[str]
    """They give a gyro its power, unless the answer is a squawk."""
    returning: frozenset[str]
    """They put back a switch or the selector."""
    plain: frozenset[str]
    names: frozenset[str]
    """All items."""
    is_exact: bool = False
    """Tell orders apart: for a walk of a small check that the orderless one is held against."""

    def last(self, progress: Progress) -> Hashable:
        """What a correction reopens."""
        return progress.done[-HISTORY:] if state_of(progress) in CORRECTABLE else ()

    def kind(self, progress: Progress, owing: Owing) -> Hashable:
        """Equal for moments that are alike in all but their corrections."""
        state = state_of(progress)
        if state in FINAL:
            return state, owing.out, owing.dangers if state is State.COMPLETE else None
        item = item_in_force(progress)
        interrupted = (progress.held is not None, progress.noting is not None)
        asked = (state, None if item is None else item.name, interrupted, owing)
        if progress.is_abandoning:
            return asked, frozenset(self._open_returns(progress)), self._moves(progress)
        return (
            asked,
            progress.are_cautions_taken,
            self._question(progress),
            frozenset(self._marks(progress)),
            tuple((name, self._is_ended(progress, name)) for name in progress.clocks),
            tuple(self._stop(stop, len(progress.done)) for stop in progress.stops if not stop.is_over),
            self._moves(progress),
            _is_away(progress),
        )

    def passed(self, happens: Hashable, progress: Progress, owing: Owing) -> Hashable:
        """Equal for moments in which it makes no difference that this happens (`glance.passing`)."""
        if happens is Word.ABANDON:
            back = self.returning.intersection(progress.done[-HISTORY:])
            return owing, frozenset(self._open_returns(progress)), self._moves(progress), back
        item = item_in_force(progress)
        is_waiting = self._question(progress), self.running(progress), frozenset(self._marks(progress))
        return happens, owing, state_of(progress), is_waiting if item is None else item.name

    def running(self, progress: Progress) -> frozenset[str]:
        """Clocks that run and hold up nothing now: they are told apart by what covers what (`walk.py`)."""
        if self.is_exact or item_in_force(progress) is None:
            return frozenset()
        return frozenset(clock.item for clock in progress.open_clocks) - self.deciding - self.starting

    def _is_ended(self, progress: Progress, name: str) -> bool | None:
        is_held_up = self.is_exact or item_in_force(progress) is None or name in self.deciding | self.starting
        return not progress.clocks[name].is_open if is_held_up else None

    def _question(self, progress: Progress) -> Hashable:
        """What waits for affirm or negative: a value by its outcome, or itself where it decides."""
        pending = progress.pending
        if pending is None or pending.number is None:
            return pending and pending.item
        if pending.item in self.deciding | self.starting:
            return pending.item, pending.number
        body = progress.plan.check.item(pending.item).body.number
        return pending.item, None if body is None else body.outcome(pending.number)

    def _open_returns(self, progress: Progress) -> Iterator[Hashable]:
        """All that an abandoned check still asks for, and stops in that."""
        yield from (name for name in self.returning if not progress.is_settled(name))
        yield from (
            (stop.item,) for stop in progress.stops if not stop.is_over and stop.item in self.returning
        )

    def _marks(self, progress: Progress) -> Iterator[Hashable]:
        """Items that are open, with whether they were put off, and the answers that something hangs on.

        An answer counts also while its item is open again for what was moved since.
        """
        is_open = self.names - _settled(progress) - self.running(progress)
        waiting = self.plain.intersection(progress.put_off) & is_open
        yield len(waiting)
        for name in is_open - waiting:
            yield name, "open", name in progress.put_off
        for name in self.deciding:
            answer = progress.answers.get(name)
            yield name, None if answer is None else answer.answer
        for name in self.starting - self.deciding:
            answer = progress.answers.get(name)
            yield name, answer is not None and answer.outcome is not Outcome.SQUAWK

    def _moves(self, progress: Progress) -> Hashable:
        """What is out of place, and what taking back the answer of a return puts out again."""
        out = dict.fromkeys((move.switch, move.back) for move in progress.moved)
        away = {switch for switch, _ in out}
        back = frozenset(
            (move.switch, move.returned_by)
            for move in progress.moves
            if move.returned_by in progress.answers and move.switch not in away
        )
        return self._list(out), back

    def _stop(self, stop: Stop, done: int) -> Hashable:
        """Of a stop that is being tried again nothing counts but that it is not over."""
        if not stop.is_in_force and not self.is_exact:
            return stop.item
        return stop.item, self._list(stop.movers), stop.is_in_force, done <= stop.done

    def _list(self, things: Iterable[Hashable]) -> Hashable:
        return tuple(things) if self.is_exact else frozenset(things)


def roles_of(plan: Plan, *, is_exact: bool = False) -> Roles:
    """The roles of a plan's items."""
    items = plan.check.items
    deciding = frozenset(item.when.item for item in items if item.when is not None)
    starting = frozenset(body.starts_on for _, body in plan.check.clocks())
    busy = deciding | starting
    plain = frozenset(item.name for item in items if item.name not in busy and _is_plain(item))
    returning = frozenset(item.name for item in items if returned_by(item))
    names = frozenset(item.name for item in items)
    return Roles(plan, deciding, starting, returning, plain, names, is_exact)


def is_behind(progress: Progress) -> bool:
    """Whether a correction led back to before something that is moved already and not answered yet."""
    item = item_in_force(progress)
    in_force = "" if item is None else item.name
    return any(move.item != in_force and not progress.is_settled(move.item) for move in progress.moved)


def _is_plain(item: Item) -> bool:
    is_special = item.critical or item.when or item.moves or item.returns or item.remedy
    body = item.body
    return not (is_special or body.is_measured or body.is_fork or body.is_call or body.selects)


def _settled(progress: Progress) -> frozenset[str]:
    """All items for which `Progress.is_settled` holds, at once."""
    ended = (name for name, clock in progress.clocks.items() if not clock.is_open)
    return frozenset((*progress.answers, *progress.unable, *ended)) - progress.moved_since


def _is_away(progress: Progress) -> Hashable:
    """Whether the selector is away, and whether taking back its restoration would make it so."""
    normal = progress.plan.normal_position
    away = [held.position != normal for held in progress.positions]
    return away[-1:] == [True], any(away)
