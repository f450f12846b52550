"""What may be said in the state that a run has come to."""

from collections.abc import Iterator

from runner.checklist.format.check import Item
from runner.core.ask.agenda import item_at_hand, state_of
from runner.core.grid.table import WORDS_IN_FORCE
from runner.core.record.once import once
from runner.core.record.progress import Progress
from runner.language.force import InForce, in_force


@once
def phrases_in_force(progress: Progress) -> InForce:
    """The answers to the question at hand, the phrases of open clocks, and the state's standard words."""
    return in_force(
        item_at_hand(progress),
        pulled=_spin_ups(progress, is_limit_passed=False),
        stuck=_spin_ups(progress, is_limit_passed=True),
        words=WORDS_IN_FORCE[state_of(progress)],
    )


def _spin_ups(progress: Progress, *, is_limit_passed: bool) -> Iterator[Item]:
    """Items of the open clocks, or of those past their limit."""
    for clock in progress.open_clocks:
        if clock.is_limit_passed or not is_limit_passed:
            yield progress.plan.check.item(clock.item)
