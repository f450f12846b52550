from dataclasses import replace

import pytest

from runner.checklist.format.check import Check, Section
from runner.core.effect import Append, Finish, Listen, Record, Say, Show
from runner.core.event import Started
from runner.core.grid.grid_cell import Cell, EventRow
from runner.core.grid.machine import Machine
from runner.core.grid.table import EVENTS, STARTED
from runner.core.plan import Plan
from runner.core.state import State
from runner.language.catalogue import Word
from tests.core.sample import PLAN, RESTORE, begun, completed, kinds, powered


def test_a_whole_run_ends_with_its_completion_call() -> None:
    """The completion call is the last item and ends the run (NASA CR-177549 App. A no. 6)."""
    run = completed()
    assert run.state is State.COMPLETE
    assert kinds(run.entries)[-2:] == ["AnswerRecorded", "RunCompleted"]
    assert run.is_finished


def test_the_end_tells_counts_and_does_not_judge_the_airplane() -> None:
    """The tool advises; flight manual and pilot decide (14 CFR 91.3(a), 91.7)."""
    said = completed().said
    assert "no squawks" in said.lower()
    assert "no cautions" in said
    assert "The flight manual and the pilot in command decide." in said
    assert "safe" not in said


def test_effects_come_in_their_order() -> None:
    """On record before anything is said, then said, then listened for, then shown."""
    run = begun()
    assert [type(effect) for effect in run.effects] == [Append, Say, Listen, Show]
    assert [type(effect) for effect in run.say(Word.NOTE).effects] == [Append, Say, Listen, Record, Show]
    assert [type(effect) for effect in completed().effects] == [Append, Append, Say, Show, Finish]


def test_turns_count_up_with_each_prompt() -> None:
    """Say and Listen carry the same new number."""
    run = begun()
    before = run.machine.turn
    run.mishear()
    turns = [effect.turn for effect in run.effects if isinstance(effect, (Say, Listen))]
    assert turns == [before + 1, before + 1] == [run.machine.turn] * 2


def test_a_clock_that_is_passed_is_spoken_in_front_of_the_next_challenge() -> None:
    """The run goes on while the gyro spins up."""
    run = powered()
    assert run.said == "LEFT FLAG. VOLTS."
    assert run.read("24.6").said == "Two four decimal six volts. RIGHT FLAG. LAMPS."


def test_a_clock_that_has_ended_is_not_spoken_of_again() -> None:
    """Its item is answered when the run comes by."""
    run = powered().pulled("right flag")
    assert run.read("24.6").said == "Two four decimal six volts. LAMPS."


def test_last_said_and_last_heard_are_kept_for_the_screen() -> None:
    """What was said and heard, and whether it counted."""
    run = begun().pick("fit", "new")
    assert run.machine.last_said == "RESERVE."
    heard = run.machine.last_heard
    assert heard is not None
    assert (heard.text, heard.confidence, heard.is_taken) == ("new", 0.9, True)
    run.pick("radio", "dead")
    heard = run.machine.last_heard
    assert heard is not None
    assert not heard.is_taken
    run.mishear()
    heard = run.machine.last_heard
    assert heard is not None
    assert (heard.text, heard.is_taken) == ("", False)


def test_a_check_without_a_completion_call_is_refused() -> None:
    """The machine would not know its end."""
    check = Check("bad", "Bad", "sample", (), (Section("All", (RESTORE,)),))
    with pytest.raises(ValueError, match="completion call"):
        Machine(Plan(check, "normal", {}, 0.0, 0.0))
    with pytest.raises(ValueError, match="completion call"):
        Machine(Plan(replace(check, sections=()), "normal", {}, 0.0, 0.0))


def test_a_state_outside_of_the_rows_targets_is_a_programming_error(monkeypatch: pytest.MonkeyPatch) -> None:
    """The table is the truth about where a step may lead."""
    machine = Machine(PLAN)
    wrong = Cell(STARTED.cells[State.READY].act, (State.ASKING,))
    row = EventRow((Started,), {**STARTED.cells, State.READY: wrong})
    monkeypatch.setattr("runner.core.grid.table.EVENTS", {**EVENTS, Started: row})
    with pytest.raises(AssertionError, match="Started may not lead from ready to briefing"):
        machine.handle(Started(0.0))
    assert machine.state is State.READY
