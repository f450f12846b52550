import pytest

from runner.checklist.kind.action import Action
from runner.core.event import RoomGrewLoud, Started
from runner.core.record.entry import AnswerRecorded, ClockStarted, ConfirmationAsked, Interrupted, RunStarted
from runner.core.state import State
from runner.language.catalogue import Word
from tests.core.sample import (
    Run,
    before_restoration,
    begun,
    completed,
    finish,
    gyro,
    item,
    kinds,
    plan_of,
    powered,
    response,
)


def test_a_new_run_reads_its_cautions_and_waits_for_continue() -> None:
    """Cautions are spoken before the start."""
    run = Run().start()
    assert run.new == [RunStarted(1000.0)]
    assert run.state is State.BRIEFING
    assert run.said == ("Sample reserve check. Ground use only. The check drains the battery. Say continue.")
    assert run.tick(30).effects == ()
    run.say(Word.CONTINUE)
    assert kinds(run.new) == ["CautionsTaken"]
    assert run.said == "FIT."


def test_an_answer_before_continue_is_no_answer() -> None:
    """No item is asked yet."""
    assert Run().start().pick("fit", "new").effects == ()


def test_a_reopened_run_goes_on_at_the_same_item_with_the_last_one_repeated() -> None:
    """The last completed item should be repeated (FSF ALAR BN 1.5); the cautions are not read again."""
    run = powered().read("24.6").restart()
    assert run.new == [Interrupted(run.at)]
    assert run.said == ("Continuing. VOLTS: two four decimal six volts. LAMPS.")


def test_a_briefing_that_was_cut_short_is_read_again() -> None:
    """The cautions were not taken."""
    assert Run().start().restart().said.startswith("Sample reserve check. Ground use only.")


def test_reopening_gives_up_a_hold_and_a_note_and_asks_the_noise_anew() -> None:
    """Who reopens the run has said continue."""
    run = powered().say(Word.STANDBY).restart()
    assert run.state is State.ASKING
    run = powered().say(Word.NOTE).restart()
    assert run.state is State.ASKING
    run = begun()
    run.take(RoomGrewLoud(run.at, -10.0))
    assert run.restart().machine.progress.hindrances == frozenset()


def test_clocks_run_through_a_stop_of_the_program() -> None:
    """The gyro has been spinning all the while."""
    run = powered().restart()
    assert [clock.elapsed(run.at) for clock in run.machine.progress.open_clocks] == [60.5, 60.5]
    run.pulled("right flag", after=4.0)
    assert run.clock_end.seconds == pytest.approx(64.5, abs=1e-6)


def test_a_value_that_waited_for_confirmation_still_waits() -> None:
    """It is asked about again."""
    run = powered().read("31").restart()
    assert run.state is State.CONFIRMING
    assert run.say(Word.AFFIRM).answer.answer == "31"


def test_a_record_cut_off_before_a_clocks_start_still_starts_it_with_its_answer() -> None:
    """The clock's start follows from the answer that is on record."""
    entries = powered().entries
    cut = next(index for index, entry in enumerate(entries) if isinstance(entry, ClockStarted))
    trigger = entries[cut - 1]
    assert isinstance(trigger, AnswerRecorded)
    run = powered().restart(keep=cut)
    assert kinds(run.new) == ["Interrupted", "ClockStarted", "ClockStarted"]
    assert [entry.at for entry in run.new[1:]] == [trigger.origin.onset_at, trigger.origin.onset_at]


def test_a_record_cut_off_before_its_end_is_ended() -> None:
    """The call was made; the end follows from it."""
    run = completed()
    again = run.restart(keep=len(run.entries) - 1)
    assert kinds(again.new) == ["Interrupted", "RunCompleted"]
    assert again.is_finished


def test_a_record_cut_off_before_its_abandonment_is_abandoned() -> None:
    """The selector is back."""
    run = powered().say(Word.ABANDON).say(Word.AFFIRM).pick("normal", "normal")
    again = run.restart(keep=len(run.entries) - 1)
    assert kinds(again.new) == ["Interrupted", "RunAbandoned"]


def test_a_finished_run_only_tells_its_end() -> None:
    """Nothing is put on record any more."""
    run = completed().restart()
    assert (run.new, run.is_finished) == ([], True)
    assert run.said.startswith("Check complete.")


def eventful() -> Run:
    """A run with a hold, a note, a correction, an item put off, a squawk and a late gyro."""
    run = powered().tick(40).read("31").say(Word.AFFIRM).say(Word.STANDBY).tick(60).say(Word.CONTINUE)
    run.say(Word.PUT_OFF).pick("radio", "dead").say(Word.CORRECTION).pick("radio", "alive")
    return run.pick("lamps", "both").pulled("left flag").stuck("right flag").pick("normal", "normal")


@pytest.mark.parametrize("keep", range(1, len(eventful().entries) + 1))
def test_a_run_stopped_after_any_entry_can_be_reopened_and_finished(keep: int) -> None:
    """With every clock ended, every critical item answered and the selector back."""
    run = finish(eventful().restart(keep))
    assert run.state is State.COMPLETE
    progress = run.machine.progress
    assert progress.open_clocks == ()
    assert {"reserve", "volts", "normal", "call"} <= set(progress.answers)
    assert progress.interruptions == 1


def test_a_second_start_of_a_live_run_is_a_reopening() -> None:
    """It is on record as one."""
    run = begun()
    assert run.take(Started(run.at)).new == [Interrupted(run.at)]


def test_an_empty_record_is_a_new_run() -> None:
    """Nothing was started."""
    assert Run().start().restart(keep=0).new == [RunStarted(1060.0)]


def test_a_reopened_run_that_waits_for_its_clocks_says_so() -> None:
    """Nothing can be asked but the flags."""
    run = powered().read("24.6").pick("lamps", "both").pick("radio", "dead").restart()
    assert run.said == "Continuing. RADIO: dead. Waiting for left gyro and right gyro."
    assert before_restoration().restart().said == "Continuing. Right gyro: one three seconds. NORMAL."


def test_a_hold_in_an_abandoned_check_reopens_at_its_restoration() -> None:
    """The selector is still to be put back."""
    run = powered().say(Word.ABANDON).say(Word.AFFIRM).say(Word.STANDBY).restart()
    assert (run.state, run.said.endswith("NORMAL.")) == (State.RESTORING, True)


def test_a_record_cut_off_before_a_clocks_start_waits_for_that_clock() -> None:
    """The clock is owed first; then nothing else can be asked."""
    plan = plan_of(item("on", Action((response("on"),))), gyro("lone", 10, 20, starts_on="on"))
    run = Run(plan).start().say(Word.CONTINUE).pick("on", "on")
    again = run.restart(keep=len(run.entries) - 1)
    assert (again.state, again.said) == (State.WAITING, "Continuing. ON: on. Waiting for lone gyro.")


def set_back(run: Run) -> Run:
    """The program stopped; the computer's clock was set back before the run was reopened."""
    return Run(run.plan, list(run.entries), run.at).take(Started(run.at, is_set_back=True))


def test_with_the_clock_set_back_the_running_clocks_may_be_restarted() -> None:
    """Affirm starts them anew from now; how long they ran is not known."""
    run = set_back(powered())
    assert kinds(run.new) == ["Interrupted", "ConfirmationAsked"]
    assert run.said.startswith(
        "The computer's clock was set back. How long this run was stopped is not known."
    )
    assert run.said.endswith("Restart the clock of left gyro and right gyro? Affirm or negative.")
    run.say(Word.AFFIRM)
    assert [entry for entry in run.new if isinstance(entry, ClockStarted)] == [
        ClockStarted(run.at, "left flag"),
        ClockStarted(run.at, "right flag"),
    ]
    assert (run.state, run.said) == (State.ASKING, "Restarted. VOLTS.")


def test_with_the_clock_set_back_the_running_clocks_may_run_on() -> None:
    """Negative leaves them; no time is ever less than nothing."""
    run = set_back(powered())
    before = run.machine.progress.clocks
    assert run.say(Word.NEGATIVE).machine.progress.clocks == before
    assert run.pulled("left flag").clock_end.seconds >= 0.0


def test_a_flag_may_be_called_while_restarting_is_asked() -> None:
    """Then there is one clock less to restart, or none."""
    run = set_back(powered()).pulled("left flag")
    assert run.said.endswith("Restart the clock of right gyro? Affirm or negative.")
    run.pulled("right flag").say(Word.AFFIRM)
    assert kinds(run.new) == ["ConfirmationDropped"]
    assert run.state is State.ASKING


def test_with_the_clock_set_back_and_no_clock_running_it_is_only_said() -> None:
    """There is nothing to choose."""
    run = set_back(begun())
    assert kinds(run.new) == ["Interrupted"]
    assert run.said.startswith("The computer's clock was set back.")


def test_a_value_that_waited_is_asked_for_again_after_the_clock_was_set_back() -> None:
    """One question at a time; what waited is dropped on record."""
    run = set_back(powered().read("22.5"))
    assert kinds(run.new) == ["Interrupted", "ConfirmationDropped", "ConfirmationAsked"]
    assert isinstance(run.new[-1], ConfirmationAsked)
    assert run.say(Word.NEGATIVE).said.endswith("VOLTS.")
