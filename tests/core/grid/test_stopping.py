import re

import pytest

from runner.checklist.kind.action import Action
from runner.checklist.kind.named_state import NamedState
from runner.core.ask.outlook import outlook_of
from runner.core.ask.upcoming_prompts import upcoming_prompts
from runner.core.event import Answered, Channel, NoteEnded
from runner.core.grid.grid_reply import Moment
from runner.core.grid.table import step
from runner.core.grid.turn import Question, Turn
from runner.core.record.entry import AnswerRecorded, Stopped, StopRetried, StopSquawked, StopWithdrawn
from runner.core.record.run_summary import summarise
from runner.core.state import State
from runner.language.catalogue import Word
from runner.language.meaning import Command
from tests.core import danger
from tests.core.danger import VOLTS, begun, dimmed
from tests.core.sample import RESTORE, Run, finish, gyro, item, kinds, plan_of, response
from tests.core.sample import begun as ordinary


def stopped() -> Run:
    """Somebody stands by the propeller."""
    return begun().pick("area", "somebody there")


def put_back() -> Run:
    """Nineteen volts on the reserve, and everything that was moved is back."""
    run = dimmed().read("19").pick("lights bright", "lights bright").pick("heater off", "heater off")
    return run.pick("normal", "normal")


def test_danger_stops_the_run_and_says_what_to_do() -> None:
    """It is neither an answer nor a squawk."""
    run = stopped()
    assert kinds(run.new) == ["Stopped"]
    assert (run.state, run.said) == (State.STOPPED, "Stop, somebody there. Wait until they are away. AREA.")
    assert run.machine.progress.answers == {}
    outlook = outlook_of(run.machine.progress)
    assert (outlook.squawks, outlook.stops) == (0, 1)


def test_the_safe_answer_ends_the_stop() -> None:
    """It is on record with the time at which it was remedied."""
    run = stopped().pick("area", "clear")
    assert kinds(run.new) == ["AnswerRecorded"]
    assert (run.state, run.said) == (State.ASKING, "RESERVE.")
    (stop,) = summarise(run.machine.progress).stops
    assert (stop.item, stop.found.answer, stop.remedied_at) == ("area", "somebody there", run.at)


def test_a_caution_ends_it_too_and_is_said() -> None:
    """Wet, but nobody there."""
    run = stopped().pick("area", "wet")
    assert (run.state, run.said) == (State.ASKING, "Caution, wet. RESERVE.")


@pytest.mark.parametrize("word", [Word.UNABLE, Word.PUT_OFF, Word.CONTINUE])
def test_no_word_goes_past_a_stop(word: Word) -> None:
    """Each is refused, with the remedy said again."""
    run = stopped().say(word)
    assert (run.new, run.state) == ([], State.STOPPED)
    said = f"{word.value.capitalize()} does not end the stop. Wait until they are away. AREA."
    assert run.said == said
    assert word.value in run.heard_phrases


def test_an_answer_that_fails_otherwise_does_not_end_it() -> None:
    """It may be said, so that it can be refused; no key offers it."""
    run = stopped().pick("area", "littered")
    assert (run.new, run.state) == ([], State.STOPPED)
    assert run.said == "Littered does not end the stop. Wait until they are away. AREA."
    labels = [answer.response.label for answer in outlook_of(run.machine.progress).answers]
    assert labels == ["clear", "somebody there", "wet"]


def test_danger_said_again_is_the_same_stop() -> None:
    """Both are on record, the summary has one."""
    run = stopped().pick("area", "somebody there")
    assert kinds(run.new) == ["Stopped"]
    (stop,) = summarise(run.machine.progress).stops
    assert (stop.at, stop.found.at) == (run.entries[2].at, run.at)


def test_squawk_it_writes_the_stop_down_and_the_stop_stays() -> None:
    """Only when the pilot says so, and once."""
    run = stopped().say(Word.SQUAWK)
    assert run.new == [StopSquawked(run.at, "area", "somebody there", "")]
    assert run.said == "On record as a squawk. Wait until they are away. AREA."
    assert run.say(Word.SQUAWK).new == []
    run.pick("area", "clear")
    squawks = summarise(run.machine.progress).squawks
    assert [(type(each), each.item) for each in squawks] == [(StopSquawked, "area")]
    assert outlook_of(run.machine.progress).squawks == 1


def test_squawk_it_is_in_force_at_a_stop_alone() -> None:
    """Nowhere else is there anything that it could mean."""
    assert "squawk it" in stopped().heard_phrases
    for run in (ordinary(), ordinary().say(Word.STANDBY), ordinary().say(Word.ABANDON), dimmed().read("19")):
        assert "squawk it" not in run.heard_phrases
    run = ordinary()
    assert run.mean(Command(Word.SQUAWK)).said == "Squawk it does not answer. FIT."


def test_a_correction_takes_back_a_stop_that_was_misheard() -> None:
    """The item is asked again; what was asked before it stays answered."""
    for word in (Word.CORRECTION, Word.NEGATIVE, Word.DISREGARD):
        run = stopped().say(word)
        assert run.new == [StopWithdrawn(run.at, "area")]
        assert (run.state, run.said) == (State.ASKING, "Correction. AREA.")
        assert summarise(run.machine.progress).stops == ()


def test_a_stop_is_held_noted_explained_and_repeated_like_any_question() -> None:
    """And it stands afterwards."""
    run = stopped()
    assert run.say(Word.WHY).said == "Reason of area. Wait until they are away. AREA."
    assert run.say(Word.STANDBY).state is State.HOLDING
    assert run.say(Word.CONTINUE).said == "Continuing. Wait until they are away. AREA."
    run.say(Word.NOTE).take(NoteEnded(run.at, "1.wav", 2.0))
    assert (run.state, run.said) == (State.STOPPED, "Noted. Wait until they are away. AREA.")
    assert run.say(Word.SAY_AGAIN).said == "Noted. Wait until they are away. AREA."
    assert run.mishear().said == "Say again. Wait until they are away. AREA."
    assert run.restart().said == "Continuing. Wait until they are away. AREA."


def test_a_stopped_check_can_be_abandoned() -> None:
    """Nothing was moved, so it ends; the stop is on record as not remedied."""
    run = stopped().say(Word.ABANDON).say(Word.AFFIRM)
    assert run.state is State.ABANDONED
    assert run.said.startswith("Check abandoned. One stop, no squawks, no cautions.")
    (stop,) = summarise(run.machine.progress).stops
    assert stop.remedied_at is None


def test_not_abandoning_leads_back_to_the_stop() -> None:
    """It was only asked."""
    run = stopped().say(Word.ABANDON).say(Word.NEGATIVE)
    assert (run.state, run.said) == (State.STOPPED, "Wait until they are away. AREA.")


def test_a_value_over_its_stop_takes_a_new_reading() -> None:
    """Nothing is asked back for it; a squawk that is no stop is confirmed as ever."""
    run = dimmed().read("33")
    assert (run.state, run.said) == (
        State.STOPPED,
        "Stop, three three decimal zero volts. Charge the battery. VOLTS.",
    )
    assert run.read("32.5").state is State.STOPPED
    assert run.read("30").state is State.CONFIRMING
    assert run.say(Word.NEGATIVE).state is State.STOPPED
    run.read("30").say(Word.AFFIRM)
    assert run.answer.outcome == "squawk"
    assert (run.state, run.said) == (State.ASKING, "Squawk, three zero decimal zero volts. LIGHTS BRIGHT.")


def test_a_stop_waits_for_no_confirmation() -> None:
    """A value in question gives way to it."""
    run = dimmed().read("30").read("33")
    assert run.state is State.STOPPED
    assert run.machine.progress.pending is None


def test_under_the_floor_everything_comes_back_first_last_moved_first() -> None:
    """No new reading is asked while the reserve drains the battery."""
    run = dimmed().read("19")
    assert (run.state, run.said) == (
        State.RESTORING,
        "Stop, one nine decimal zero volts. LIGHTS BRIGHT.",
    )
    assert run.say(Word.UNABLE).said == "Unable refused: LIGHTS BRIGHT is critical. LIGHTS BRIGHT."
    assert run.pick("lights bright", "lights bright").said == "HEATER OFF."
    assert run.pick("heater off", "heater off jammed").said == "Squawk, heater off jammed. NORMAL."
    run.pick("normal", "normal")
    assert (run.state, run.said) == (
        State.STOPPED,
        "Charge the battery. Say continue to try again, or abandon check.",
    )


def test_once_everything_is_back_nothing_is_read_until_it_is_asked_again() -> None:
    """Volts at rest are no volts on the reserve."""
    run = put_back()
    assert "two four decimal six" not in run.heard_phrases
    assert run.read("24.6").effects == ()
    assert run.say(Word.UNABLE).state is State.STOPPED
    assert outlook_of(run.machine.progress).gauge is None
    assert run.say(Word.STANDBY).say(Word.CONTINUE).state is State.STOPPED


def test_continue_asks_what_it_takes_again_and_then_the_reading() -> None:
    """Clocks start anew with the power; what comes back is asked again at its place."""
    run = put_back().say(Word.CONTINUE)
    assert run.new[-1] == StopRetried(run.at, "volts")
    assert (run.state, run.said) == (State.ASKING, "Continuing. RESERVE.")
    assert run.machine.progress.clocks == {}
    run.pick("reserve", "reserve").pick("heater on", "heater on")
    assert run.pick("lights dim", "lights dim").said == "VOLTS."
    assert run.read("24.6").said == "Two four decimal six volts. LIGHTS BRIGHT."
    run.pick("lights bright", "lights bright").pick("heater off", "heater off").pulled("left flag")
    assert run.said.endswith("NORMAL.")
    (stop,) = summarise(run.machine.progress).stops
    assert stop.remedied_at is not None


def test_under_the_floor_again_is_the_same_stop_again() -> None:
    """And everything comes back again."""
    run = put_back().say(Word.CONTINUE).pick("reserve", "reserve").pick("heater on", "heater on")
    run.pick("lights dim", "lights dim").read("19.5")
    assert (run.state, run.said) == (State.RESTORING, "Stop, one nine decimal five volts. LIGHTS BRIGHT.")
    (stop,) = summarise(run.machine.progress).stops
    assert (stop.found.answer, stop.remedied_at) == ("19.5", None)


def test_a_misheard_floor_is_taken_back_before_anything_is_returned() -> None:
    """After that a correction is about what was returned."""
    run = dimmed().read("19").say(Word.CORRECTION)
    assert (run.state, run.said) == (State.ASKING, "Correction. VOLTS.")
    run = dimmed().read("19").pick("lights bright", "lights bright").say(Word.CORRECTION)
    assert (run.state, run.said) == (State.RESTORING, "Correction. LIGHTS BRIGHT.")


def test_a_stop_under_the_floor_at_rest_takes_a_new_reading() -> None:
    """Nothing is away."""
    run = dimmed().read("24.6").pick("lights bright", "lights bright").pick("heater off", "heater off")
    run.pulled("left flag").pick("normal", "normal").read("19", "rest")
    assert (run.state, run.said) == (
        State.STOPPED,
        "Stop, one nine decimal zero volts. Charge the battery. REST.",
    )
    assert run.read("25", "rest").said == "Two five decimal zero volts. CALL."


def test_a_stop_under_the_floor_can_be_abandoned_half_way_back() -> None:
    """The rest comes back all the same."""
    run = dimmed().read("19").pick("lights bright", "lights bright").say(Word.ABANDON).say(Word.AFFIRM)
    assert (run.state, run.said) == (State.RESTORING, "HEATER OFF.")
    run.pick("heater off", "heater off").pick("normal", "normal")
    assert run.state is State.ABANDONED


def test_every_stopped_run_can_be_brought_to_its_end() -> None:
    """By the answers that lead on, from any entry after which the program stopped."""
    run = finish(put_back())
    for kept in range(2, len(run.entries)):
        again = finish(Run(run.plan, run.entries[:kept]).start())
        assert again.state is State.COMPLETE
        assert again.machine.progress.moved == ()


def test_no_answer_on_record_is_a_stop() -> None:
    """The last answer of every item is one that the run went on with."""
    run = finish(put_back())
    answers = [entry for entry in run.entries if isinstance(entry, AnswerRecorded)]
    assert all(answer.outcome != "stop" for answer in answers)
    assert sum(isinstance(entry, Stopped) for entry in run.entries) == 1


def test_a_retry_waits_for_the_gyros_before_the_selector_moves_again() -> None:
    """One that got its power from an item that is not asked again still runs."""
    reserve = item("reserve", Action((response("reserve"),), selects="reserve"))
    gyros = item("gyros on", NamedState((response("on"),)))
    plan = plan_of(reserve, gyros, gyro("left", 30, 60, "gyros on"), item("volts", VOLTS), RESTORE)
    run = Run(plan).start().say(Word.CONTINUE).pick("reserve", "reserve").pick("gyros on", "on")
    run.read("19").pick("normal", "normal").say(Word.CONTINUE)
    assert kinds(run.new) == ["Reopened", "StopRetried"]
    assert (run.state, run.said) == (State.WAITING, "Continuing. Waiting for left gyro.")
    assert run.pulled("left flag").state is State.ASKING


@pytest.mark.parametrize("word", [Word.CONTINUE, Word.SQUAWK])
def test_without_a_stop_there_is_nothing_to_do(word: Word) -> None:
    """The row is never asked then; it says so rather than raise."""
    run = begun()
    moment = Moment(run.machine.progress, State.STOPPED, Turn(0, Question(State.STOPPED, ""), ""), None, 0)
    event = Answered(run.at, 0, Command(word), "x", 1.0, run.at, Channel.KEYS)
    assert step(moment, event)[0] is None


def test_no_prompt_of_a_stop_speaks_of_fitness() -> None:
    """It says what is wrong and what to do, and that a stop is over it does not say at all."""
    said = " ".join(each.text for each in upcoming_prompts(danger.PLAN)).lower()
    assert not re.search(r"\b(safe|fit|airworthy|good to go|cleared)\b", said)
