import pytest

from runner.core.state import State
from runner.language.catalogue import Word
from runner.language.meaning import Command, Picked
from tests.core.sample import Run, begun, kinds, powered


def test_standby_holds_at_the_item() -> None:
    """Hold checklist at the item (FSF ALAR BN 1.5); STANDBY pauses and never ends an item."""
    run = powered().say(Word.STANDBY)
    assert kinds(run.new) == ["Held"]
    assert (run.state, run.said) == (State.HOLDING, "Holding at VOLTS. Say continue to go on.")
    assert Run().start().say(Word.STANDBY).said == "Holding. Say continue to go on."


def test_continue_repeats_the_last_completed_item_first() -> None:
    """The last completed item should be repeated (FSF ALAR BN 1.5)."""
    run = powered().read("24.6").say(Word.STANDBY).say(Word.CONTINUE)
    assert kinds(run.new) == ["Released"]
    assert run.said == "Continuing. VOLTS: two four decimal six volts. LAMPS."


def test_continue_repeats_a_gyro_that_came_last() -> None:
    """With its time."""
    run = powered().pulled("left flag").say(Word.STANDBY).say(Word.CONTINUE)
    assert run.said == "Continuing. Left gyro: three seconds. VOLTS."


def test_continue_reads_the_cautions_again_when_they_were_not_taken() -> None:
    """They were interrupted."""
    run = Run().start().say(Word.STANDBY).say(Word.CONTINUE)
    assert run.said.startswith("Sample reserve check. Ground use only.")
    assert run.state is State.BRIEFING


def test_continue_before_anything_was_completed_only_asks() -> None:
    """There is nothing to repeat."""
    assert begun().say(Word.STANDBY).say(Word.CONTINUE).said == "Continuing. FIT."


def test_talk_in_a_hold_passes_by() -> None:
    """The pilot speaks with somebody else: no reply, nothing on record."""
    run = powered().say(Word.STANDBY)
    for meaning in (
        Command(Word.ROGER),
        Command(Word.NEGATIVE),
        Command(Word.STANDBY),
        Picked("lamps", "both"),
    ):
        assert run.mean(meaning).effects == ()
    assert run.mishear().effects == ()


def test_few_phrases_are_in_force_in_a_hold() -> None:
    """The words that go on, and the clocks."""
    phrases = set(powered().say(Word.STANDBY).heard_phrases)
    assert {"continue", "say again", "abandon check", "left pulled", "right pulled"} <= phrases
    assert not phrases & {"affirm", "roger", "standby", "two four decimal six"}


def test_say_again_repeats_that_the_check_is_held() -> None:
    """Nothing else was said last."""
    run = begun().say(Word.STANDBY)
    assert run.say(Word.SAY_AGAIN).said == "Holding at FIT. Say continue to go on."


def test_clocks_come_due_in_a_hold_and_are_asked_about_again_after_it() -> None:
    """Spoken into the hold; a flag that is late is still a question when the run goes on."""
    run = powered().say(Word.STANDBY).tick(40)
    assert kinds(run.new) == ["ClockAdvised"]
    assert run.said == "Left gyro: four three seconds. LEFT FLAG. Say continue to go on."
    run.play().tick(30)
    assert kinds(run.new) == ["ClockLimitPassed", "ClockAdvised"]
    assert run.said == (
        "Left gyro: past the limit. Pulled, or stuck? Right gyro: seven three seconds. RIGHT FLAG. "
        "Say continue to go on."
    )
    assert "left stuck" in run.heard_phrases
    run.play().say(Word.CONTINUE)
    assert run.said == (
        "Continuing. RESERVE: reserve. Left gyro: past the limit. Pulled, or stuck? "
        "Right gyro: seven six seconds. RIGHT FLAG. VOLTS."
    )


def test_a_held_check_can_be_abandoned() -> None:
    """The hold is given up first."""
    run = powered().say(Word.STANDBY).say(Word.ABANDON)
    assert kinds(run.new) == ["Released", "ConfirmationAsked"]
    assert run.state is State.CONFIRMING


@pytest.mark.parametrize("word", list(Word))
def test_each_word_is_settled_in_a_hold(word: Word) -> None:
    """No word raises."""
    run = powered().say(Word.STANDBY).say(word)
    assert run.state in (State.HOLDING, State.ASKING, State.CONFIRMING)
