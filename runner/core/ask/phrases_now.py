"""What may be said in the state that a run has come to."""

from runner.checklist.format.check import Item
from runner.checklist.kind.item_phrases import phrases_of
from runner.core.ask.agenda import item_at_hand, state_of
from runner.core.ask.taken_back import corrected_item
from runner.core.grid.table import WORDS_IN_FORCE
from runner.core.record.once import once
from runner.core.record.progress import Progress
from runner.language.force import InForce


@once
def phrases_in_force(progress: Progress) -> InForce:
    """Answers to the question at hand, corrections, open clocks' phrases, the state's standard words."""
    return phrases_of(
        item_at_hand(progress),
        pulled=_spin_ups(progress, is_limit_passed=False),
        stuck=_spin_ups(progress, is_limit_passed=True),
        corrected=corrected_item(progress),
        words=WORDS_IN_FORCE[state_of(progress)],
    )


def _spin_ups(progress: Progress, *, is_limit_passed: bool) -> tuple[Item, ...]:
    """Items of the open clocks, or of those past their limit."""
    clocks = (each for each in progress.open_clocks if each.is_limit_passed or not is_limit_passed)
    return tuple(progress.plan.check.item(clock.item) for clock in clocks)
