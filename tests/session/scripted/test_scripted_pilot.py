"""The scripted pilot: who is answered when, and what is said again."""

from dataclasses import replace

import pytest

from runner.errors import UsageError
from runner.session.scripted.pilot_script import PilotScript, ScriptLine
from runner.session.scripted.scripted_pilot import PATIENCE_SECONDS, TRIES, Pilot, PilotMoment

VOLTS = ScriptLine("volts", "two four", None, 1.0, is_clock=False)
CLOCK = ScriptLine("gyro", "flag pulled", None, 30.0, is_clock=True)
AT_VOLTS = PilotMoment(now=10.0, turn=1, point="volts", silent_since=9.5, clocks={}, spoke_until=0.0)


def _pilot(*lines: ScriptLine) -> Pilot:
    return Pilot(PilotScript("check", "voice", None, 0, 0.0, lines))


def test_a_line_waits_for_its_delay_after_the_prompt() -> None:
    """The line comes once its seconds have gone by, not before."""
    pilot = _pilot(VOLTS)
    assert pilot.next_line(AT_VOLTS) is None
    assert pilot.next_line(replace(AT_VOLTS, now=10.5)) == VOLTS


def test_nothing_is_said_into_a_prompt() -> None:
    """While a prompt plays the pilot listens."""
    assert _pilot(VOLTS).next_line(replace(AT_VOLTS, now=99.0, silent_since=None)) is None


def test_a_flag_is_called_before_a_question_is_answered() -> None:
    """A clock's line comes first once it is due."""
    pilot = _pilot(VOLTS, CLOCK)
    assert pilot.next_line(replace(AT_VOLTS, now=40.0, clocks={"gyro": 10.0})) == CLOCK


def test_two_lines_are_not_said_in_one_breath() -> None:
    """After a line there is a pause before the next."""
    pilot = _pilot(VOLTS)
    assert pilot.next_line(replace(AT_VOLTS, now=20.0, spoke_until=19.0)) is None
    assert pilot.next_line(replace(AT_VOLTS, now=20.0, spoke_until=18.0)) == VOLTS


def test_a_line_that_was_talked_over_is_repeated() -> None:
    """A prompt that cut the answer short makes the pilot say it again in the new turn."""
    pilot = _pilot(VOLTS)
    assert pilot.next_line(replace(AT_VOLTS, now=11.0)) == VOLTS
    later = replace(AT_VOLTS, turn=2, now=20.0, silent_since=18.0, spoke_until=12.0)
    assert pilot.next_line(later) == VOLTS


def test_a_line_that_was_heard_is_not_repeated() -> None:
    """Once the ear made something of it, the script goes on."""
    pilot = _pilot(VOLTS, replace(VOLTS, say="two five"))
    pilot.next_line(replace(AT_VOLTS, now=11.0))
    pilot.was_heard(is_taken=True)
    again = pilot.next_line(replace(AT_VOLTS, turn=2, now=20.0, silent_since=18.0, spoke_until=12.0))
    assert again is not None
    assert again.say == "two five"


def test_a_line_that_nobody_notices_ends_the_run_with_a_reason() -> None:
    """After some tries the error names the line and the point."""
    pilot = _pilot(VOLTS)
    now = 11.0
    for _ in range(TRIES):
        assert pilot.next_line(replace(AT_VOLTS, now=now)) == VOLTS
        now += PATIENCE_SECONDS
    with pytest.raises(UsageError, match='"two four" at "volts" in 3 tries'):
        pilot.next_line(replace(AT_VOLTS, now=now))


def test_a_script_without_a_line_ends_the_run_with_a_reason() -> None:
    """The error says which line to add."""
    with pytest.raises(UsageError, match='add one with "on: volts"'):
        _pilot(CLOCK).next_line(replace(AT_VOLTS, now=30.0))


def test_silence_is_right_while_a_clock_runs() -> None:
    """With a flag still to be called, an empty point is no mistake."""
    waiting = replace(AT_VOLTS, point="waiting", now=35.0, clocks={"gyro": 20.0})
    assert _pilot(CLOCK).next_line(waiting) is None


def test_a_line_that_was_not_taken_is_said_again_when_asked_again() -> None:
    """With nothing else in the script there, the pilot repeats it; not for ever."""
    pilot = _pilot(VOLTS)
    now = 11.0
    for turn in range(1, TRIES + 1):
        assert pilot.next_line(replace(AT_VOLTS, turn=turn, now=now)) == VOLTS
        pilot.was_heard(is_taken=False)
        now += 5.0
    with pytest.raises(UsageError, match="no line left"):
        pilot.next_line(replace(AT_VOLTS, turn=9, now=now + PATIENCE_SECONDS))


def test_a_flag_that_was_not_taken_is_called_again() -> None:
    """A clock's line stays due until the ear has it."""
    pilot = _pilot(CLOCK)
    due = replace(AT_VOLTS, point="waiting", now=45.0, clocks={"gyro": 10.0})
    assert pilot.next_line(due) == CLOCK
    pilot.was_heard(is_taken=False)
    assert pilot.next_line(replace(due, turn=2, now=50.0, silent_since=49.0, spoke_until=47.0)) == CLOCK
