"""When two moments of a run are alike: what can follow is the same, so that a walk goes on from one of them.

Left out, since no row of the table looks at it: times, texts, the values and outcomes of answers that
nothing hangs on, superseded answers, notes, counts, hindrances of the voice, what was heard of a prompt.

Bounds, so that the walk ends soon:
- Plain items (not critical, without a condition, moving, returning, stopping and deciding nothing) can be
  told from one another only while they are asked: of those put off only their number counts.
- At most MOST_PUT_OFF items are put off at the same time.
- Of what is done the last HISTORY names are kept: corrections up to so many in a row are followed from
  every moment, longer rows of them from one moment of each kind.
- A clock is running, past its limit or ended; the advise time between the two changes only what is said.
"""

from collections.abc import Hashable, Iterator
from dataclasses import dataclass

from runner.checklist.model import Action, Call, Choice, Item, Outcome, Reading, SpinUp
from runner.core.agenda import item_in_force, state_of
from runner.core.machine import Machine
from runner.core.move import Move
from runner.core.plan import Plan
from runner.core.progress import Progress
from runner.core.stop import Stop
from runner.prove.owing import Owing

MOST_PUT_OFF = 2
HISTORY = 2


@dataclass(frozen=True, slots=True)
class Roles:
    """What the items of a check mean to one another."""

    plan: Plan
    deciding: frozenset[str]
    """Named by the condition of another item: the very answer counts."""
    starting: frozenset[str]
    """They give a gyro its power, unless the answer is a squawk."""
    plain: frozenset[str]

    def kind(self, machine: Machine, owing: Owing) -> Hashable:
        """Equal for moments that are alike."""
        progress = machine.progress
        item = item_in_force(progress)
        return (
            state_of(progress),
            None if item is None else item.name,
            progress.are_cautions_taken,
            progress.is_abandoning,
            tuple(self._marks(progress)),
            tuple(_clocks(progress)),
            _pending(progress),
            (progress.held is not None, progress.noting is not None),
            tuple(_stops(progress)),
            _moves(progress.moves),
            tuple(dict.fromkeys((held.position, held.item) for held in progress.positions)),
            progress.done[-HISTORY:],
            machine.reads_back,
            owing,
        )

    def _marks(self, progress: Progress) -> Iterator[Hashable]:
        waiting = 0
        for item in self.plan.check.items:
            if not progress.is_settled(item.name):
                if item.name in progress.put_off and item.name in self.plain:
                    waiting += 1
                else:
                    yield item.name, item.name in progress.put_off
            elif item.name in self.deciding:
                answer = progress.answers.get(item.name)
                yield item.name, None if answer is None else answer.answer
            elif item.name in self.starting:
                answer = progress.answers.get(item.name)
                yield item.name, answer is not None and answer.outcome is not Outcome.SQUAWK
        yield waiting


def roles_of(plan: Plan) -> Roles:
    """The roles of a plan's items."""
    items = plan.check.items
    deciding = frozenset(item.when.item for item in items if item.when is not None)
    starting = frozenset(body.starts_on for _, body in plan.check.clocks())
    busy = deciding | starting
    return Roles(
        plan, deciding, starting, frozenset(each.name for each in items if each.name not in busy and _is_plain(each))
    )


def _is_plain(item: Item) -> bool:
    is_special = item.critical or item.when or item.moves or item.returns or item.remedy
    if is_special or isinstance(item.body, (Reading, SpinUp, Choice, Call)):
        return False
    return not (isinstance(item.body, Action) and item.body.selects)


def _clocks(progress: Progress) -> Iterator[Hashable]:
    for name, clock in progress.clocks.items():
        yield name, clock.is_open, clock.is_open and clock.is_limit_passed


def _pending(progress: Progress) -> Hashable:
    pending = progress.pending
    if pending is None or pending.number is None:
        return pending is not None
    body = progress.plan.check.item(pending.item).body
    return pending.item, body.outcome(pending.number) if isinstance(body, Reading) else None


def _stops(progress: Progress) -> Iterator[Hashable]:
    for stop in progress.stops:
        if not stop.is_over:
            yield _stop(stop, len(progress.done))


def _stop(stop: Stop, done: int) -> Hashable:
    is_untouched = done <= stop.done
    return stop.item, stop.movers, stop.is_in_force, stop.squawked_at is not None, is_untouched


def _moves(moves: tuple[Move, ...]) -> Hashable:
    """What is out of place in its order, and which item returned the rest."""
    out = tuple((move.switch, move.back) for move in moves if not move.returned_by)
    return out, frozenset((move.switch, move.returned_by) for move in moves if move.returned_by)
