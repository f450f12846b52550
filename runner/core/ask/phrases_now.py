"""What may be said in the state that a run has come to."""

from collections.abc import Iterator
from typing import Final, TypeGuard

from runner.checklist.format.check import Item
from runner.checklist.kind.item_phrases import phrases_of
from runner.core.ask.agenda import item_in_force, state_of
from runner.core.record.entry import ConfirmationAsked
from runner.core.record.once import once
from runner.core.record.progress import Progress
from runner.core.state import FINAL, State
from runner.language.force import InForce
from runner.language.meaning import Word

WORDS: Final = {
    State.BRIEFING: (
        *(Word.CONTINUE, Word.SAY_AGAIN, Word.SPEAK_SLOWER, Word.WORDS_TWICE),
        *(Word.STANDBY, Word.ABANDON, Word.ROGER),
    ),
    State.HOLDING: (Word.CONTINUE, Word.SAY_AGAIN, Word.ABANDON),
    State.NOTING: (),
    State.STOPPED: tuple(Word),
}
"""States with words of their own; the fewer, the less is taken out of talk that is not for the tool."""

EVERYWHERE: Final = tuple(word for word in Word if word is not Word.SQUAWK)
"""The words of all other states."""

NOTHING: Final = InForce({})


@once
def phrases_in_force(progress: Progress) -> InForce:
    """The answers to the question at hand, the phrases of open clocks, and standard words."""
    state = state_of(progress)
    if state is State.READY or state in FINAL:
        return NOTHING
    return phrases_of(
        item_at_hand(progress),
        pulled=_spin_ups(progress, is_limit_passed=False),
        stuck=_spin_ups(progress, is_limit_passed=True),
        words=WORDS.get(state, EVERYWHERE),
    )


def item_at_hand(progress: Progress) -> Item | None:
    """The item whose answers count now: the one asked, or the reading that waits for confirmation.

    None at a stop for which everything was put back: there is nothing to read until it is asked again.
    """
    state = state_of(progress)
    if state in (State.ASKING, State.RESTORING):
        return item_in_force(progress)
    if state is State.STOPPED and progress.stop is not None and not progress.stop.movers:
        return item_in_force(progress)
    if state is State.CONFIRMING and _is_value(progress.pending):
        return progress.plan.check.item(progress.pending.item)
    return None


def _is_value(pending: ConfirmationAsked | None) -> TypeGuard[ConfirmationAsked]:
    """A number waits, not an abandonment and not a clock that may begin anew."""
    return pending is not None and pending.number is not None


def _spin_ups(progress: Progress, *, is_limit_passed: bool) -> Iterator[Item]:
    """Items of the open clocks, or of those past their limit."""
    for clock in progress.open_clocks:
        if clock.is_limit_passed or not is_limit_passed:
            yield progress.plan.check.item(clock.item)
