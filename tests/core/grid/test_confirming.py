import pytest

from runner.core.event import Answered, Channel
from runner.core.grid.grid_reply import Moment
from runner.core.grid.table import step
from runner.core.grid.turn import Question, Turn
from runner.core.record.entry import ConfirmationAsked
from runner.core.state import State
from runner.language.catalogue import Outcome, Word
from runner.language.meaning import Command
from tests.core.sample import Run, before_restoration, begun, completed, kinds, powered


def doubtful() -> Run:
    """A value out of its band waits for confirmation."""
    return powered().read("31.0")


def test_a_value_out_of_its_band_is_read_back_and_asked_about() -> None:
    """CONFIRM: have I correctly received the following? (ICAO Annex 10 Vol II 5.2.1.5.8)."""
    run = doubtful()
    asked = run.new[0]
    assert isinstance(asked, ConfirmationAsked)
    assert str(asked.number) == "31.0"
    assert run.said == "Three one decimal zero volts is a squawk. Affirm or negative."
    assert powered().read("28.5").said == "Two eight decimal five volts is a caution. Affirm or negative."


def test_confirm_repeats_the_value_and_takes_nothing() -> None:
    """CONFIRM: have I correctly received the following? (ICAO Annex 10 Vol II 5.2.1.5.8)."""
    run = doubtful().say(Word.CONFIRM)
    assert (run.new, run.state) == ([], State.CONFIRMING)
    assert run.said == "Three one decimal zero volts is a squawk. Affirm or negative."
    leaving = powered().say(Word.ABANDON).say(Word.CONFIRM)
    assert (leaving.new, leaving.said) == ([], "Abandon the check? Affirm or negative.")


def test_affirm_puts_the_value_on_record() -> None:
    """With the outcome of its band."""
    run = doubtful().say(Word.AFFIRM)
    assert (run.answer.answer, run.answer.outcome) == ("31.0", Outcome.SQUAWK)
    assert run.said.startswith("Squawk, three one decimal zero volts.")


@pytest.mark.parametrize("word", [Word.NEGATIVE, Word.DISREGARD, Word.CORRECTION])
def test_a_denied_value_is_dropped_and_asked_again(word: Word) -> None:
    """It never was an answer."""
    run = doubtful().say(word)
    assert kinds(run.new) == ["ConfirmationDropped"]
    assert (run.state, run.said) == (State.ASKING, "VOLTS.")


def test_a_new_value_replaces_the_one_that_waits() -> None:
    """In its band it is taken, out of it it is asked about in turn."""
    run = doubtful().read("30.5")
    assert run.said == "Three zero decimal five volts is a squawk. Affirm or negative."
    run.read("25.0")
    assert run.answer.answer == "25.0"
    assert run.machine.progress.pending is None


def test_a_late_affirm_does_not_confirm_the_value_that_came_after_it() -> None:
    """The question has changed since."""
    run = doubtful()
    turn = run.machine.turn
    run.read("30.5").mean(Command(Word.AFFIRM), turn=turn)
    assert run.effects == ()


def test_an_affirm_still_counts_when_a_reminder_came_between() -> None:
    """The question is the same."""
    run = doubtful()
    turn = run.machine.turn
    run.tick(30).mean(Command(Word.AFFIRM), turn=turn)
    assert run.answer.answer == "31.0"


@pytest.mark.parametrize("word", [Word.UNABLE, Word.PUT_OFF, Word.ROGER, Word.CONTINUE])
def test_other_words_do_not_confirm(word: Word) -> None:
    """Roger confirms nothing (ICAO Annex 10 Vol II 5.2.1.5.8)."""
    run = doubtful().say(word)
    assert (run.new, run.state) == ([], State.CONFIRMING)
    assert "does not answer" in run.said


def test_a_hold_comes_back_to_the_confirmation() -> None:
    """With the last completed item first."""
    run = doubtful().say(Word.STANDBY).say(Word.CONTINUE)
    assert run.said == (
        "Continuing. RESERVE: reserve. Three one decimal zero volts is a squawk. Affirm or negative."
    )


def test_a_flag_may_be_called_meanwhile() -> None:
    """Its clock ends, and the value still waits."""
    run = doubtful().pulled("left flag")
    assert run.state is State.CONFIRMING
    assert run.said.endswith("Affirm or negative.")


def test_an_abandoned_run_still_restores_the_selector() -> None:
    """Restoring the selector is asked for even when a run is abandoned; clocks are no longer."""
    run = powered().say(Word.ABANDON).say(Word.AFFIRM)
    assert (run.state, run.said) == (State.RESTORING, "NORMAL.")
    assert run.heard_phrases[-1] == "jammed"
    assert run.pulled("left flag").effects == ()
    assert run.tick(100).effects == ()
    run.pick("normal", "normal")
    assert kinds(run.new) == ["AnswerRecorded", "RunAbandoned"]
    assert run.said.startswith("Check abandoned.")
    assert run.is_finished


def test_an_abandoned_run_ends_at_once_where_the_selector_never_moved() -> None:
    """There is nothing to restore."""
    run = begun().say(Word.ABANDON).say(Word.AFFIRM)
    assert kinds(run.new) == ["AbandonStarted", "RunAbandoned"]
    assert run.state is State.ABANDONED


def test_an_abandoned_run_ends_at_once_where_the_selector_is_back() -> None:
    """Only the call was left."""
    run = before_restoration().pick("normal", "normal").say(Word.ABANDON).say(Word.AFFIRM)
    assert run.state is State.ABANDONED


def test_a_corrected_restoration_is_asked_for_in_an_abandoned_run() -> None:
    """A correction never takes the selector to be nearer to normal than it may be."""
    run = before_restoration().pick("normal", "normal").say(Word.CORRECTION)
    run.say(Word.ABANDON).say(Word.AFFIRM)
    assert run.state is State.RESTORING


def test_a_corrected_move_away_is_still_restored_in_an_abandoned_run() -> None:
    """Nobody knows whether the selector moved; it is asked for."""
    run = powered().say(Word.CORRECTION).say(Word.ABANDON).say(Word.AFFIRM)
    assert run.state is State.RESTORING


def test_a_restoration_that_fails_is_a_squawk_and_lets_the_run_end() -> None:
    """What cannot be done is on record for maintenance."""
    run = powered().say(Word.ABANDON).say(Word.AFFIRM).pick("normal", "jammed")
    assert run.state is State.ABANDONED
    assert "one squawk" in run.said.lower()


def test_the_restoration_itself_cannot_be_abandoned_or_corrected_away() -> None:
    """The selector comes first; older answers stay as they are."""
    run = powered().say(Word.ABANDON).say(Word.AFFIRM)
    assert run.say(Word.ABANDON).said == "The check is abandoned. What was moved comes back first. NORMAL."
    assert run.say(Word.CORRECTION).said == "Nothing to correct. NORMAL."
    assert run.say(Word.UNABLE).said == "Unable refused: NORMAL is critical. NORMAL."
    assert run.read("24.6").effects == ()


def test_a_dropped_abandonment_returns_to_where_it_was() -> None:
    """The briefing, an item, or the wait for clocks."""
    assert Run().start().say(Word.ABANDON).say(Word.NEGATIVE).state is State.BRIEFING
    run = powered().read("24.6").pick("lamps", "both").pick("radio", "dead")
    assert run.say(Word.ABANDON).say(Word.NEGATIVE).state is State.WAITING


def test_affirm_and_negative_have_no_subject_where_nothing_waits() -> None:
    """The table never leads here without a question."""
    moment = Moment(
        begun().machine.progress, State.CONFIRMING, Turn(0, Question(State.CONFIRMING, ""), ""), None, 0
    )
    for word in (Word.AFFIRM, Word.NEGATIVE):
        event = Answered(1.0, 0, Command(word), word.value, 1.0, 1.0, Channel.KEYS)
        assert step(moment, event)[0] is None


def test_a_finished_run_takes_no_more_answers() -> None:
    """Final states stay."""
    run = completed()
    run.take(
        Answered(run.at, run.machine.turn, Command(Word.CORRECTION), "correction", 1.0, run.at, Channel.KEYS)
    )
    assert run.effects == ()
