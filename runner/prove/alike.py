"""When two moments of a run are alike: what can follow is the same, so that a walk goes on from one of them.

Left out, since no row of the table goes another way for it: times, texts, the values and outcomes of answers
that nothing hangs on, superseded answers, notes, counts, hindrances of the voice, what was heard of a prompt,
whether a stop was squawked, what a prompt read back (`walk.py` denies it at once); once a check is abandoned,
everything but what it returns. A clock is running or ended: its advise time and its limit add a phrase for
its end (`happening.py`).

Bounds, so that the walk ends soon:
- Plain items (not critical, without a condition, moving, returning, stopping and deciding nothing) can be
  told from one another only while they are asked: of those put off only their number counts.
- At most MOST_PUT_OFF items are put off at the same time.
- Standby and notes are not followed inside the question whether to abandon, but before it.
- Of what is done the last HISTORY names are kept: so many corrections in a row are followed from every
  moment, longer rows of them from one moment of each kind only; and none is made before the run has come
  back to where it had already moved something.
"""

from collections.abc import Hashable, Iterator
from dataclasses import dataclass

from runner.checklist.format.check import Item, Outcome
from runner.core.ask.agenda import item_in_force, state_of
from runner.core.plan import Plan
from runner.core.record.danger_stop import Stop
from runner.core.record.progress import Progress
from runner.core.state import FINAL
from runner.prove.owing import Owing, returned_by

MOST_PUT_OFF = 1
HISTORY = 1


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
    names: tuple[str, ...]
    """All items, in order."""

    def kind(self, progress: Progress, owing: Owing) -> Hashable:
        """Equal for moments that are alike."""
        state = state_of(progress)
        if state in FINAL:
            return state, owing.out
        item = item_in_force(progress)
        last = progress.done[-HISTORY:]
        interrupted = (progress.held is not None, progress.noting is not None)
        asked = (state, None if item is None else item.name, interrupted, owing)
        if progress.is_abandoning:
            back = tuple(name for name in last if name in self.returning)
            return asked, tuple(self._open_returns(progress)), _moves(progress), back
        return (
            asked,
            progress.are_cautions_taken,
            None if progress.pending is None else progress.pending.item,
            tuple(self._marks(progress)),
            tuple((name, clock.is_open) for name, clock in progress.clocks.items()),
            tuple(_stop(stop, len(progress.done)) for stop in progress.stops if not stop.is_over),
            _moves(progress),
            _is_away(progress),
            last,
        )

    def _open_returns(self, progress: Progress) -> Iterator[Hashable]:
        """All that an abandoned check still asks for, and stops in that."""
        yield from (name for name in self.names if name in self.returning and not progress.is_settled(name))
        yield from (stop.item for stop in progress.stops if not stop.is_over and stop.item in self.returning)

    def _marks(self, progress: Progress) -> Iterator[Hashable]:
        settled = progress.is_settled
        waiting = 0
        for name in self.names:
            if not settled(name):
                if name in progress.put_off and name in self.plain:
                    waiting += 1
                else:
                    yield name, name in progress.put_off
            elif name in self.deciding:
                answer = progress.answers.get(name)
                yield name, None if answer is None else answer.answer
            elif name in self.starting:
                answer = progress.answers.get(name)
                yield name, answer is not None and answer.outcome is not Outcome.SQUAWK
        yield waiting


def roles_of(plan: Plan) -> Roles:
    """The roles of a plan's items."""
    items = plan.check.items
    deciding = frozenset(item.when.item for item in items if item.when is not None)
    starting = frozenset(body.starts_on for _, body in plan.check.clocks())
    busy = deciding | starting
    plain = frozenset(item.name for item in items if item.name not in busy and _is_plain(item))
    returning = frozenset(item.name for item in items if returned_by(item))
    return Roles(plan, deciding, starting, returning, plain, tuple(item.name for item in items))


def is_behind(progress: Progress) -> bool:
    """Whether a correction led back to before something that is moved already and not answered yet."""
    item = item_in_force(progress)
    in_force = "" if item is None else item.name
    return any(move.item != in_force and not progress.is_settled(move.item) for move in progress.moved)


def _is_plain(item: Item) -> bool:
    is_special = item.critical or item.when or item.moves or item.returns or item.remedy
    body = item.body
    return not (is_special or body.is_measured or body.is_fork or body.is_call or body.selects)


def _stop(stop: Stop, done: int) -> Hashable:
    return stop.item, stop.movers, stop.is_in_force, done <= stop.done


def _is_away(progress: Progress) -> Hashable:
    """Whether the selector is away, and whether taking back its restoration would make it so."""
    normal = progress.plan.normal_position
    away = [held.position != normal for held in progress.positions]
    return away[-1:] == [True], any(away)


def _moves(progress: Progress) -> Hashable:
    """What is out of place, last moved first, and what taking back the answer of a return puts out again."""
    out = tuple(dict.fromkeys((move.switch, move.back) for move in progress.moved))
    away = {switch for switch, _ in out}
    back = frozenset(
        (move.switch, move.returned_by)
        for move in progress.moves
        if move.returned_by in progress.answers and move.switch not in away
    )
    return out, back
