from dataclasses import replace

import pytest

from runner.checklist.format.check import Condition
from runner.checklist.kind.action import Action
from runner.core.record.move import moves_of, switches_returned
from runner.core.state import State
from runner.language.catalogue import Outcome, Word
from tests.core import danger
from tests.core.danger import begun, dimmed, moving, returning
from tests.core.sample import CALL, RESTORE, Run, item, plan_of, response


def moved(run: Run) -> list[str]:
    """What is out of its place, last moved first."""
    return [move.switch for move in run.machine.progress.moved]


def test_what_is_asked_is_as_good_as_moved() -> None:
    """The pilot may have thrown the switch before the program stopped, or before abandoning."""
    run = begun().pick("area", "clear")
    assert moved(run) == ["selector"]
    assert moved(run.pick("reserve", "reserve")) == ["heater", "selector"]
    run.say(Word.ABANDON).say(Word.AFFIRM)
    assert (run.state, run.said) == (State.RESTORING, "HEATER OFF.")
    assert run.pick("heater off", "heater off").said == "NORMAL."
    assert run.pick("normal", "normal").state is State.ABANDONED


def test_a_correction_of_the_second_of_two_returns_leaves_it_out() -> None:
    """Both ask the same switch back; whoever takes back the second answer may have looked again."""
    plan = plan_of(
        moving("heater on", "heater"),
        returning("heater off", "heater"),
        returning("heater off again", "heater"),
        RESTORE,
        CALL,
    )
    run = Run(plan).start().say(Word.CONTINUE)
    for name in ("heater on", "heater off", "heater off again"):
        run.pick(name, name)
    assert moved(run) == []
    run.say(Word.CORRECTION)
    assert moved(run) == ["heater"]
    run.say(Word.ABANDON).say(Word.AFFIRM)
    assert (run.state, run.said) == (State.RESTORING, "HEATER OFF AGAIN.")


def test_nothing_is_moved_by_what_was_never_asked() -> None:
    """In the briefing, and held there, the first item has not been asked."""
    run = Run(plan_of(moving("heater on", "heater"), returning("heater off", "heater"))).start()
    assert moved(run.say(Word.STANDBY)) == []
    assert moved(run.say(Word.CONTINUE)) == []
    assert moved(run.say(Word.CONTINUE)) == ["heater"]


def test_an_abandoned_run_asks_back_last_moved_first_across_a_crash() -> None:
    """The program stops after each answer."""
    run = dimmed().say(Word.ABANDON).say(Word.AFFIRM)
    said = [run.said]
    for name in ("lights bright", "heater off"):
        run = run.pick(name, name).restart()
        said.append(run.said)
    assert [words.split()[-2:] for words in said] == [
        ["LIGHTS", "BRIGHT."],
        ["HEATER", "OFF."],
        ["off.", "NORMAL."],
    ]
    assert run.pick("normal", "normal").state is State.ABANDONED


def test_a_thing_that_will_not_go_back_is_a_squawk_and_lets_the_run_end() -> None:
    """It was asked, and the record says that it failed."""
    run = dimmed().say(Word.ABANDON).say(Word.AFFIRM).pick("lights bright", "lights bright jammed")
    assert run.answer.outcome is Outcome.SQUAWK
    assert run.said == "Squawk, lights bright jammed. HEATER OFF."


def test_a_correction_makes_it_unreturned_again() -> None:
    """Also where the check is abandoned; what is no return is not corrected there."""
    run = dimmed().say(Word.ABANDON).say(Word.AFFIRM)
    assert run.say(Word.CORRECTION).said == "Nothing to correct. LIGHTS BRIGHT."
    run.pick("lights bright", "lights bright").say(Word.CORRECTION)
    assert run.said == "Correction. LIGHTS BRIGHT."
    assert moved(run) == ["dimmer", "heater", "selector"]


def test_what_returns_can_be_neither_put_off_nor_left_undone() -> None:
    """It is critical whether it says so or not."""
    heater_off = replace(returning("heater off", "heater"), critical=False)
    run = Run(plan_of(moving("heater on", "heater"), heater_off)).start().say(Word.CONTINUE)
    run.pick("heater on", "heater on")
    for word in (Word.UNABLE, Word.PUT_OFF):
        assert run.say(word).said == f"{word.value.capitalize()} refused: HEATER OFF is critical. HEATER OFF."


def test_a_move_declared_unable_is_still_asked_back() -> None:
    """The switch may have been touched."""
    run = begun().pick("area", "clear").pick("reserve", "reserve").say(Word.UNABLE)
    assert "heater" in moved(run)


def test_what_is_moved_after_its_return_is_asked_back_again() -> None:
    """A move that was put off comes back before the call, and its return after it."""
    run = Run(plan_of(moving("heater on", "heater"), returning("heater off", "heater"))).start()
    run.say(Word.CONTINUE).say(Word.PUT_OFF)
    assert run.said == "Put off, HEATER ON. HEATER OFF."
    assert run.pick("heater off", "heater off").said == "HEATER ON."
    assert run.pick("heater on", "heater on").said == "HEATER OFF."
    assert run.pick("heater off", "heater off").said == "CALL."
    assert run.pick("call", "check complete").state is State.COMPLETE


def test_the_call_waits_for_a_return_that_no_longer_applies() -> None:
    """Whatever the answers to other items rule out, nothing stays moved."""
    heater_off = replace(returning("heater off", "heater"), when=Condition("lamps", ("dark",)))
    lamps = item("lamps", Action((response("lit"), response("dark"))))
    run = Run(plan_of(moving("heater on", "heater"), lamps, heater_off)).start().say(Word.CONTINUE)
    run.pick("heater on", "heater on").pick("lamps", "lit")
    assert run.said == "HEATER OFF."
    assert run.pick("heater off", "heater off").said == "CALL."


def test_danger_on_the_way_out_is_said_and_asked_again() -> None:
    """It is on record; the return stays asked until it is answered."""
    answers = (response("heater off"), response("smoke", Outcome.STOP))
    heater_off = replace(
        item("heater off", Action(answers), critical=True), returns=("heater",), remedy="Battery off"
    )
    run = Run(plan_of(moving("heater on", "heater"), heater_off)).start().say(Word.CONTINUE)
    run.say(Word.ABANDON).say(Word.AFFIRM).pick("heater off", "smoke")
    assert (run.state, run.said) == (State.RESTORING, "Stop, smoke. Battery off. HEATER OFF.")
    assert run.pick("heater off", "heater off").state is State.ABANDONED


def test_the_selector_counts_by_itself() -> None:
    """Away from where the airplane is found it is moved; only what restores it returns it."""
    plan = danger.PLAN
    reserve = plan.check.item("reserve")
    assert [(move.switch, move.back) for move in moves_of(plan, reserve)] == [("selector", "normal")]
    assert list(moves_of(plan, RESTORE)) == []
    assert switches_returned(RESTORE) == ("selector",)
    assert switches_returned(CALL) == ()


@pytest.mark.parametrize(("above", "back"), [(False, "second off"), (True, "first off")])
def test_the_next_return_below_is_the_one_that_is_asked(above: bool, back: str) -> None:  # noqa: FBT001 - a case
    """A switch that is used twice has two; one above counts only where none follows."""
    first = (moving("first on", "heater"), returning("first off", "heater"), moving("second on", "heater"))
    plan = plan_of(*first) if above else plan_of(*first, returning("second off", "heater"))
    assert [move.back for move in moves_of(plan, plan.check.item("second on"))] == [back]


def test_what_nothing_returns_cannot_be_asked_back() -> None:
    """The loader refuses such a check; a record that was made with one can still be read."""
    plan = plan_of(moving("heater on", "heater"))
    assert list(moves_of(plan, plan.check.item("heater on"))) == []
