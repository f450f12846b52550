from dataclasses import replace

import pytest

from runner.checklist.kind.action import Action
from runner.core.effect import Say
from runner.core.event import MicLost, RoomGrewLoud
from runner.core.grid.table import WORDS
from runner.core.record.entry import ConfirmationAsked, Reopened
from runner.core.state import State
from runner.language.catalogue import Word
from tests.core import danger
from tests.core.sample import (
    VOLTS,
    Run,
    before_restoration,
    begun,
    completed,
    item,
    kinds,
    plan_of,
    powered,
    response,
)


def waiting() -> Run:
    """A run in which only the clocks are open."""
    return powered().read("24.6").pick("lamps", "both").pick("radio", "dead")


def test_each_standard_word_does_something() -> None:
    """The table of words is total."""
    assert set(WORDS) == set(Word)


@pytest.mark.parametrize("word", [Word.ROGER, Word.AFFIRM, Word.CONTINUE, Word.NEGATIVE, Word.DISREGARD])
def test_a_word_that_answers_nothing_is_refused(word: Word) -> None:
    """ROGER never replies to what needs READ BACK, AFFIRM or NEGATIVE (ICAO Annex 10 Vol II 5.2.1.5.8)."""
    run = begun().say(word)
    assert (run.new, run.state) == ([], State.ASKING)
    assert run.said == f"{word.value.capitalize()} does not answer. FIT."


def test_say_again_repeats_the_last_transmission_in_full() -> None:
    """ICAO Annex 10 Vol II 5.2.1.5.8: SAY AGAIN, repeat all of your last transmission."""
    run = powered().read("24.6")
    said = run.said
    assert run.say(Word.SAY_AGAIN).said == said
    assert run.new == []


def test_say_again_after_a_stop_asks_the_question() -> None:
    """A reopened run has said nothing yet that could be repeated; it asks."""
    run = Run(entries=list(begun().entries))
    assert run.say(Word.SAY_AGAIN).said == "FIT."


def test_correction_reopens_the_last_answer_and_keeps_the_old_entry() -> None:
    """The superseded answer stays in the record."""
    run = powered().read("24.6").say(Word.CORRECTION)
    assert run.new == [Reopened(run.at, "volts")]
    assert run.said == "Correction. VOLTS."
    run.read("25.6")
    assert run.machine.progress.answers["volts"].answer == "25.6"
    assert [record.item for record in run.machine.progress.superseded] == ["volts"]


def test_correction_said_twice_reopens_two_answers() -> None:
    """Back step by step; a choice that is answered anew decides anew."""
    run = begun().pick("fit", "new").pick("reserve", "dark").say(Word.CORRECTION).say(Word.CORRECTION)
    assert run.said == "Correction. FIT."
    assert run.machine.progress.answers == {}
    assert run.say(Word.CORRECTION).said == "Nothing to correct. FIT."


@pytest.mark.parametrize("word", [Word.NEGATIVE, Word.DISREGARD, Word.CORRECTION])
def test_a_read_back_may_be_denied_in_the_turn_after_it(word: Word) -> None:
    """A reading is read back and is taken only unless corrected."""
    run = powered().read("24.6").say(word)
    assert run.new == [Reopened(run.at, "volts")]


def test_a_read_back_may_be_denied_after_a_failure_to_hear_the_denial() -> None:
    """The question is the same, so the denial is about the same read-back."""
    run = powered().read("24.6").mishear().say(Word.NEGATIVE)
    assert run.new == [Reopened(run.at, "volts")]


def test_a_read_back_may_be_denied_after_a_reminder() -> None:
    """A gyro was asked about between the read-back and its denial."""
    run = powered().read("24.6").tick(40).say(Word.NEGATIVE)
    assert run.new == [Reopened(run.at, "volts")]


def test_a_denial_does_not_reopen_twice() -> None:
    """The gyro's clock runs on already."""
    run = powered().pulled("left flag").say(Word.NEGATIVE).say(Word.NEGATIVE)
    assert run.new == []


def test_a_read_back_is_settled_by_the_next_answer() -> None:
    """After that a bare negative denies nothing."""
    run = powered().read("24.6").pick("lamps", "both").say(Word.NEGATIVE)
    assert run.new == []


def test_a_clocks_read_back_may_be_denied() -> None:
    """The clock runs on."""
    run = powered().pulled("left flag").say(Word.NEGATIVE)
    assert run.new == [Reopened(run.at, "left flag")]


@pytest.mark.parametrize("word", [Word.PUT_OFF, Word.UNABLE])
def test_a_critical_item_is_neither_put_off_nor_left_undone(word: Word) -> None:
    """No compromise on the critical items (NASA CR-177549 App. A no. 15)."""
    run = powered().say(word)
    assert run.new == []
    assert run.said == f"{word.value.capitalize()} refused: VOLTS is critical. VOLTS."


@pytest.mark.parametrize("word", [Word.PUT_OFF, Word.UNABLE])
def test_neither_restoration_nor_call_can_be_left_out(word: Word) -> None:
    """Restoring the selector is critical, and the completion call ends every check."""
    run = before_restoration().say(word)
    assert run.said == f"{word.value.capitalize()} refused: NORMAL is critical. NORMAL."
    assert run.pick("normal", "normal").say(word).said.endswith("CALL is critical. CALL.")


def test_an_item_that_is_put_off_comes_back_before_the_restoration() -> None:
    """And is answered like any other."""
    run = powered().read("24.6").say(Word.PUT_OFF)
    assert kinds(run.new) == ["PutOff"]
    assert run.said == "Put off, LAMPS. RADIO."
    run.pick("radio", "dead")
    assert run.said == "LAMPS."
    run.pick("lamps", "both")
    assert run.machine.progress.put_off == ()


def test_an_item_that_has_come_back_is_not_put_off_again() -> None:
    """It can be answered, or declared unable."""
    run = powered().read("24.6").say(Word.PUT_OFF).pick("radio", "dead").say(Word.PUT_OFF)
    assert (run.new, run.said) == (
        [],
        "Nothing else can be asked before it. Answer it, or say unable. LAMPS.",
    )
    run.say(Word.UNABLE)
    assert kinds(run.new) == ["DeclaredUnable"]
    assert run.machine.progress.put_off == ()


def test_an_item_is_not_put_off_over_a_move_of_the_selector() -> None:
    """What it asks about may be dead in the next position."""
    run = begun().say(Word.PUT_OFF)
    assert (run.new, run.said) == ([], "Nothing else can be asked before it. Answer it, or say unable. FIT.")


def test_an_item_put_off_after_the_restoration_comes_back_before_the_call() -> None:
    """Nothing is lost between the restoration and the end."""
    plan = plan_of(item("hatch", Action((response("closed"),))), item("lights", Action((response("off"),))))
    run = Run(plan).start().say(Word.CONTINUE).say(Word.PUT_OFF).pick("lights", "off")
    assert run.said == "HATCH."


def test_unable_is_on_record_and_told_at_the_end() -> None:
    """UNABLE: I cannot comply (ICAO Annex 10 Vol II 5.2.1.5.8)."""
    run = powered().read("24.6").say(Word.UNABLE)
    assert run.said == "Unable, LAMPS. RADIO."
    run.pick("radio", "dead").pulled("left flag").pulled("right flag")
    run.pick("normal", "normal").pick("call", "check complete")
    assert "one item not done" in run.said


def test_correction_reopens_an_unable() -> None:
    """It was said by mistake."""
    run = powered().read("24.6").say(Word.UNABLE).say(Word.CORRECTION)
    assert run.said == "Correction. LAMPS."


@pytest.mark.parametrize("word", [Word.PUT_OFF, Word.UNABLE])
def test_a_clock_is_neither_put_off_nor_left_open(word: Word) -> None:
    """It ends with its own phrase, or as stuck."""
    run = waiting().say(word)
    assert run.new == []
    assert run.said.startswith("A clock ends with its own phrase.")


def test_read_back_repeats_the_last_answer() -> None:
    """READ BACK: repeat the message exactly as received (ICAO Annex 10 Vol II 5.2.1.5.8)."""
    run = begun().say(Word.READ_BACK)
    assert run.said == "Nothing is completed yet. FIT."
    run.pick("fit", "new")
    assert run.say(Word.READ_BACK).said == "FIT: new. RESERVE."
    run.pick("reserve", "reserve").read("24.6")
    assert run.say(Word.READ_BACK).said == "VOLTS: two four decimal six volts. LAMPS."
    assert run.say(Word.UNABLE).say(Word.READ_BACK).said == "LAMPS: unable. RADIO."
    run.pulled("right flag")
    assert run.say(Word.READ_BACK).said.startswith("Right gyro: ")


def test_why_speaks_the_items_reason() -> None:
    """For students; the question is asked again after it."""
    assert begun().say(Word.WHY).said == "Reason of fit. FIT."
    assert waiting().say(Word.WHY).said.startswith("Reason of left flag.")


def test_the_way_of_a_current_is_spoken_as_a_list() -> None:
    """A voice would say "greater than" between its parts."""
    plan = plan_of(replace(item("radio", VOLTS), why="It hangs on: battery > hot bus > radio."))
    run = Run(plan).start().say(Word.CONTINUE).say(Word.WHY)
    assert run.said == "It hangs on: battery, hot bus, radio. RADIO."


def test_why_admits_that_there_is_no_reason() -> None:
    """An item may have none, and the briefing has none."""
    bare = replace(item("bare", VOLTS), why="")
    run = Run(plan_of(bare)).start()
    assert run.say(Word.WHY).said == "Why does not answer. Short check. Ground use only. Say continue."
    assert run.say(Word.CONTINUE).say(Word.WHY).said == "No reason is given. BARE."


def test_why_and_note_have_no_item_where_nothing_is_left() -> None:
    """A record cut off before its end has no item and no clock."""
    run = Run(entries=completed().entries[:-1])
    assert run.state is State.WAITING
    assert run.say(Word.WHY).said.startswith("No reason is given.")


def test_a_note_without_a_microphone_is_typed() -> None:
    """In a loud room a clip still can be recorded."""
    run = begun()
    run.take(MicLost(run.at)).say(Word.NOTE)
    assert (run.state, run.said) == (State.NOTING, "Type the note.")
    run = begun()
    run.take(RoomGrewLoud(run.at, -20.0)).say(Word.NOTE)
    assert run.state is State.NOTING


def test_abandon_is_asked_back_first() -> None:
    """The question names no item."""
    run = begun().say(Word.ABANDON)
    asked = run.new[0]
    assert isinstance(asked, ConfirmationAsked)
    assert (asked.item, asked.number, run.state) == ("", None, State.CONFIRMING)
    assert run.said == "Abandon the check? Affirm or negative."


def test_abandoning_drops_a_value_that_waits() -> None:
    """Its answer was never confirmed, so it is not on record."""
    run = powered().read("31").say(Word.ABANDON)
    assert kinds(run.new) == ["ConfirmationDropped", "ConfirmationAsked"]
    run.say(Word.NEGATIVE)
    assert (run.state, run.said) == (State.ASKING, "VOLTS.")
    assert "volts" not in run.machine.progress.answers


def test_confirm_repeats_what_was_received_last() -> None:
    """Nothing goes on record by it; at a stop it is the reading that stopped the run."""
    run = powered().read("24.6").say(Word.CONFIRM)
    assert (run.new, run.said) == ([], "VOLTS: two four decimal six volts. LAMPS.")
    stopped = danger.begun().pick("area", "somebody there").say(Word.CONFIRM)
    assert (stopped.new, stopped.state) == ([], State.STOPPED)
    assert stopped.said.startswith("Stop, somebody there.")


def test_speak_slower_says_the_last_transmission_again_and_all_that_follows_at_a_slower_pace() -> None:
    """Reduce your rate of speech (ICAO Annex 10 Vol II 5.2.1.5.8)."""
    run = begun()
    assert (said_by(run).text, said_by(run).read_back) == ("FIT.", ())
    run.say(Word.SPEAK_SLOWER)
    assert (said_by(run).text, said_by(run).read_back) == ("FIT.", ("FIT.",))
    run.pick("fit", "new")
    assert said_by(run).read_back == ("RESERVE.",)
    assert said_by(run.restart()).read_back != ("Continuing.", "RESERVE."), "the program forgets it"


def test_words_twice_says_each_question_twice() -> None:
    """Send every word, or group of words, twice (ICAO Annex 10 Vol II 5.2.1.5.8)."""
    run = begun().say(Word.WORDS_TWICE)
    assert (run.new, run.said) == ([], "FIT. FIT.")
    assert run.pick("fit", "new").said == "RESERVE. RESERVE."
    run.pick("reserve", "reserve").read("24.6").pick("lamps", "left out")
    assert run.said == "Squawk, left out. RADIO. RADIO."


def said_by(run: Run) -> Say:
    """What the last step said."""
    return next(effect for effect in run.effects if isinstance(effect, Say))
