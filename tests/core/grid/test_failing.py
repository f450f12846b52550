"""A part of the tool fails: the run says so, keeps it on record, and goes on."""

import pytest

from runner.core.event import MicBack, MicLost, Port, PortBack, PortFailed
from runner.core.record.entry import NoteRecorded, PortChanged
from runner.core.state import State
from runner.language.catalogue import Word
from tests.core.sample import Run, begun, completed, kinds, powered

LATE = "no answer for 5 s"


def test_without_an_ear_answers_go_by_keys_and_with_it_by_voice_again() -> None:
    """Both are on record, and what is asked is asked again."""
    run = begun()
    run.take(PortFailed(run.at, Port.EAR, LATE))
    assert run.new == [PortChanged(run.at, Port.EAR, is_lost=True, reason=LATE)]
    assert run.said == "The ear has failed. Use the keys. FIT."
    assert (run.channel, run.machine.progress.lost) == ("keys", {Port.EAR: LATE})
    assert run.take(PortFailed(run.at, Port.EAR, "again")).effects == ()
    run.take(PortBack(run.at, Port.EAR))
    assert run.new == [PortChanged(run.at, Port.EAR, is_lost=False, reason="")]
    assert (run.said, run.channel) == ("Listening again. FIT.", "voice")
    assert run.take(PortBack(run.at, Port.EAR)).effects == ()


def test_an_ear_that_is_back_without_a_microphone_hears_nothing() -> None:
    """Voice comes back when nothing is against it."""
    run = begun()
    run.take(MicLost(run.at)).take(PortFailed(run.at, Port.EAR, LATE)).take(PortBack(run.at, Port.EAR))
    assert (run.said, run.channel) == ("", "keys")
    assert run.take(MicBack(run.at)).channel == "voice"


@pytest.mark.parametrize("port", [Port.MOUTH, Port.SPEAKER, Port.CLIP])
def test_a_voice_that_fails_is_told_by_the_screen_alone(port: Port) -> None:
    """The question stands; it is on record and the picture is drawn anew."""
    run = begun()
    run.take(PortFailed(run.at, port, LATE))
    assert (kinds(run.new), run.said, run.channel) == (["PortChanged"], "", "voice")
    assert [type(effect).__name__ for effect in run.effects] == ["Append", "Listen", "Show"]


def test_a_screen_that_fails_is_told_by_voice() -> None:
    """Nobody could read it."""
    run = begun()
    assert run.take(PortFailed(run.at, Port.SCREEN, LATE)).said == "The screen has failed. FIT."


@pytest.mark.parametrize("port", [Port.EAR, Port.MICROPHONE])
def test_a_note_ends_when_nothing_can_hear_its_end(port: Port) -> None:
    """It is given up and said to be; there is a way out of every note."""
    run = powered().say(Word.NOTE)
    run.take(PortFailed(run.at, port, LATE))
    assert run.new[1] == NoteRecorded(run.at, "volts", "", 0.0)
    assert run.state is State.ASKING
    assert run.said.endswith("Use the keys. No note was recorded. VOLTS.")
    assert run.say(Word.NOTE).said == "Type the note."


def test_what_happens_during_a_note_leaves_the_recording_alone() -> None:
    """An advise time or a failure goes on record without a new order to listen, which would end the note."""
    run = powered().say(Word.NOTE)
    for event_kinds in (kinds(run.tick(40).new), kinds(run.take(PortFailed(run.at, Port.MOUTH, LATE)).new)):
        assert event_kinds in (["ClockAdvised"], ["PortChanged"])
        assert [type(effect).__name__ for effect in run.effects] == ["Append", "Show"]
    assert run.state is State.NOTING


def test_in_a_hold_a_failure_is_on_record_without_a_word() -> None:
    """Most of what is said in a hold is not for the tool."""
    run = powered().say(Word.STANDBY)
    run.take(PortFailed(run.at, Port.EAR, LATE))
    assert (kinds(run.new), run.said, run.state) == (["PortChanged"], "", State.HOLDING)
    assert run.take(PortBack(run.at, Port.EAR)).said == ""


def test_after_the_end_nothing_is_added() -> None:
    """A run that has ended takes no more entries."""
    run = completed()
    assert run.take(PortFailed(run.at, Port.EAR, LATE)).effects == ()


def test_a_run_that_is_reopened_starts_with_everything_in_order() -> None:
    """The new program opens every part anew."""
    run = begun()
    run.take(PortFailed(run.at, Port.EAR, LATE))
    assert run.restart().machine.progress.lost == {}


def test_before_the_start_a_failure_is_on_record_without_a_word() -> None:
    """The cautions come first."""
    run = Run()
    run.take(PortFailed(run.at, Port.SPEAKER, LATE))
    assert (kinds(run.new), run.said) == (["PortChanged"], "")
