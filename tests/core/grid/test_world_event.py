from dataclasses import replace

import pytest

from runner.checklist.kind.action import Action
from runner.core.event import (
    MicBack,
    MicLost,
    Misheard,
    PlaybackEnded,
    Reason,
    RoomGrewLoud,
    RoomGrewQuiet,
)
from runner.core.record.entry import BatteryWarned, Cause, ClockAdvised, InputChanged
from runner.core.state import State
from runner.language.catalogue import Word
from tests.core import danger
from tests.core.sample import Run, begun, item, kinds, plan_of, powered, response


def test_a_tick_with_nothing_due_changes_nothing() -> None:
    """Most do not."""
    assert begun().tick(100).effects == ()
    assert powered().tick(20).effects == ()


def test_the_run_asks_about_a_gyro_at_its_advise_time_and_at_its_limit() -> None:
    """Once each; the question at hand is asked again after it."""
    run = powered().tick(31)
    assert run.new == [ClockAdvised(run.at, "left flag")]
    assert run.said == "Left gyro: three two seconds. LEFT FLAG. VOLTS."
    assert run.tick(1).effects == ()
    run.tick(28)
    assert kinds(run.new) == ["ClockLimitPassed", "ClockAdvised"]
    assert run.said == (
        "Left gyro: past the limit. Pulled, or stuck? Right gyro: six one seconds. RIGHT FLAG. VOLTS."
    )


def test_a_late_tick_owes_advise_and_limit_at_once() -> None:
    """One sentence for the gyro, the worse one."""
    run = powered().tick(70)
    assert kinds(run.new) == ["ClockAdvised", "ClockLimitPassed", "ClockAdvised"]
    assert run.said.count("Left gyro") == 1


def test_the_battery_warns_once_at_its_share() -> None:
    """36 A for 200 s are 2.0 Ah, a tenth of 20 Ah (arithmetic of 190-02246-10 Rev 11 p. 3-38: A x min)."""
    run = powered().tick(190)
    assert not any(isinstance(entry, BatteryWarned) for entry in run.new)
    run.play().tick(9.5)
    assert run.new == [BatteryWarned(run.at, 2.0)]
    assert run.said == "Caution, battery: this check has used one zero percent. VOLTS."
    assert run.tick(1000).effects == ()


def test_a_failure_to_hear_asks_again_and_two_in_a_row_offer_keys() -> None:
    """It never guesses."""
    run = begun().mishear()
    assert (run.new, run.said) == ([], "Say again. FIT.")
    assert run.mishear().said == "Use the keys, or say again. FIT."
    assert run.mishear().said == "Use the keys, or say again. FIT."


def test_an_answer_ends_the_row_of_failures() -> None:
    """The next failure is a first one."""
    run = begun().mishear().mishear().pick("fit", "new").mishear()
    assert run.said == "Say again. RESERVE."


def test_a_stale_failure_is_ignored() -> None:
    """It belongs to a question that is no longer asked."""
    run = begun()
    turn = run.machine.turn
    run.pick("fit", "new")
    assert run.take(Misheard(run.at, turn, Reason.UNSURE, "fit", 0.3)).effects == ()


def test_a_room_too_loud_switches_to_keys_and_back_by_itself() -> None:
    """It is said and on record; what is heard in a loud room asks nothing."""
    run = begun()
    run.take(RoomGrewLoud(run.at, -12.0))
    assert run.new == [InputChanged(run.at, "keys", Cause.ROOM_LOUD)]
    assert run.said == "Too loud to hear you. Use the keys. FIT."
    assert run.channel == "keys"
    assert run.mishear().effects == ()
    assert run.take(RoomGrewLoud(run.at, -10.0)).effects == ()
    run.take(RoomGrewQuiet(run.at, -40.0))
    assert run.new == [InputChanged(run.at, "voice", Cause.ROOM_QUIET)]
    assert run.said == "Listening again. FIT."
    assert run.channel == "voice"
    assert run.take(RoomGrewQuiet(run.at, -40.0)).effects == ()


def test_a_lost_microphone_keeps_the_keys_when_the_room_is_quiet_again() -> None:
    """Voice comes back when nothing is against it."""
    run = begun()
    run.take(MicLost(run.at))
    assert run.said == "No sound from the microphone. Use the keys. FIT."
    run.take(RoomGrewLoud(run.at, -12.0)).take(RoomGrewQuiet(run.at, -50.0))
    assert run.channel == "keys"
    run.take(MicBack(run.at))
    assert run.said == "The microphone is back. FIT."
    assert run.channel == "voice"


def test_noise_before_the_start_and_in_a_hold_is_on_record_without_a_word() -> None:
    """Nothing is being asked."""
    run = Run()
    run.take(RoomGrewLoud(run.at, -12.0))
    assert (kinds(run.new), run.said) == (["InputChanged"], "")
    assert run.start().state is State.BRIEFING
    run = powered().say(Word.STANDBY)
    run.take(MicLost(run.at))
    assert (kinds(run.new), run.said) == (["InputChanged"], "")
    assert run.take(MicLost(run.at)).effects == ()


def test_the_end_of_an_older_prompt_times_nothing() -> None:
    """It was cut short by the one that plays now."""
    run = powered()
    run.take(PlaybackEnded(run.at, run.machine.turn - 1)).read("24.6")
    assert run.answer.origin.response_seconds is None


def test_a_silence_asks_once_more_and_passes_nothing() -> None:
    """Half a minute after the end of the prompt, gently, and once a question."""
    run = begun().play().tick(29.9)
    assert run.effects == ()
    run.tick(0.1)
    assert (run.new, run.said) == ([], "When you are ready. FIT.")
    assert run.play().tick(500).effects == ()
    assert run.state is State.ASKING


def test_an_author_may_set_how_long_a_silence_lasts() -> None:
    """For an item that takes a while."""
    slow = replace(item("walk round", Action((response("done"),))), silence_seconds=120.0)
    run = Run(plan_of(slow)).start().say(Word.CONTINUE).play()
    assert run.tick(119).effects == ()
    assert run.tick(1).said == "When you are ready. WALK ROUND."


def test_silence_counts_from_the_end_of_the_last_prompt() -> None:
    """Not while it is spoken, and anew after anything that was said in between."""
    run = begun().tick(100)
    assert run.effects == ()
    run.play().tick(20).mishear().play().tick(20)
    assert run.effects == ()
    assert run.tick(10).said == "When you are ready. FIT."


def test_each_question_has_its_own_silence() -> None:
    """An answer to the reminder is an answer; the next item is asked again in its turn."""
    run = begun().play().tick(30).play().pick("fit", "new").play().tick(30)
    assert run.said == "When you are ready. RESERVE."


@pytest.mark.parametrize(
    ("run", "state"),
    [
        (powered().pulled("left flag").pulled("right flag").read("31"), State.CONFIRMING),
        (begun().say(Word.ABANDON), State.CONFIRMING),
        (danger.begun().pick("area", "somebody there"), State.STOPPED),
        (danger.dimmed().pulled("left flag").read("19"), State.RESTORING),
    ],
)
def test_silence_is_noticed_wherever_an_answer_is_waited_for(run: Run, state: State) -> None:
    """Confirming, stopped, restoring."""
    said = run.play().tick(29).said + run.tick(1).said
    assert run.state is state
    assert "When you are ready. " in said


@pytest.mark.parametrize("word", [Word.STANDBY, Word.NOTE])
def test_silence_is_right_in_a_hold_and_in_a_note(word: Word) -> None:
    """Nobody is asked anything."""
    assert begun().say(word).play().tick(500).effects == ()


def test_silence_is_right_while_only_clocks_are_open() -> None:
    """The clocks have times of their own."""
    run = powered().read("24.6").pick("lamps", "both").pick("radio", "dead").play()
    assert run.state is State.WAITING
    assert "When you are ready" not in run.tick(40).said
