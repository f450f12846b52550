from runner.core.event import NoteEnded
from runner.core.grid.grid_reply import Moment
from runner.core.grid.table import step
from runner.core.grid.turn import Question, Turn
from runner.core.record.entry import NoteRecorded, NoteStarted, NoteTyped
from runner.core.state import State
from runner.language.catalogue import Word
from runner.language.meaning import Picked, Pulled
from tests.core.sample import Run, begun, kinds, powered


def noting() -> Run:
    """A note on the volts is being recorded, with both clocks running."""
    return powered().say(Word.NOTE)


def test_a_note_belongs_to_the_item_in_force() -> None:
    """Its clip is named in the record."""
    run = noting()
    assert run.new == [NoteStarted(run.at, "volts")]
    assert (run.state, run.said) == (State.NOTING, "Recording.")
    run.take(NoteEnded(run.at + 4, "0001.wav", 4.0))
    assert run.new == [NoteRecorded(run.at + 4, "volts", "0001.wav", 4.0)]
    assert (run.state, run.said) == (State.ASKING, "Noted. VOLTS.")
    assert run.machine.progress.notes == (NoteRecorded(run.at + 4, "volts", "0001.wav", 4.0),)


def test_a_typed_note_is_kept_as_words() -> None:
    """Where there is no microphone."""
    run = noting()
    run.take(NoteEnded(run.at + 9, "", 0.0, "left lamp flickers"))
    kept = NoteTyped(run.at + 9, "volts", "left lamp flickers")
    assert run.new == [kept]
    assert (run.state, run.said) == (State.ASKING, "Noted. VOLTS.")
    assert run.machine.progress.notes == (kept,)


def test_an_empty_note_is_told_and_kept_nowhere() -> None:
    """Nothing was recorded."""
    run = noting()
    run.take(NoteEnded(run.at, "", 0.0))
    assert run.said == "No note was recorded. VOLTS."
    assert run.machine.progress.notes == ()


def test_only_clock_phrases_count_during_a_note() -> None:
    """What is said is the note, except that a flag has pulled."""
    run = noting()
    assert set(run.heard_phrases) == {"left pulled", "right pulled"}
    assert run.say(Word.STANDBY).effects == ()
    assert run.mean(Picked("volts", "24")).effects == ()
    assert run.pulled("nothing").effects == ()
    run.pulled("left flag")
    assert kinds(run.new) == ["ClockEnded"]
    assert (run.state, run.said) == (State.NOTING, "")


def test_a_stale_flag_is_not_taken_during_a_note() -> None:
    """Of a turn long gone."""
    run = noting()
    turn = run.machine.turn
    assert run.mean(Pulled("left flag"), turn=turn - 2).effects == ()


def test_clocks_come_due_silently_and_are_asked_about_after_the_note() -> None:
    """Nothing is spoken into the clip."""
    run = noting().tick(40)
    assert (kinds(run.new), run.said) == (["ClockAdvised"], "")
    run.take(NoteEnded(run.at, "0001.wav", 4.0))
    assert run.said == "Noted. Left gyro: four three seconds. LEFT FLAG. VOLTS."


def test_the_end_of_a_note_that_never_began_is_ignored() -> None:
    """A late event from the recorder."""
    run = begun()
    event = NoteEnded(run.at, "0001.wav", 1.0)
    assert run.take(event).effects == ()
    turn = Turn(0, Question(State.NOTING, ""), "")
    assert step(Moment(run.machine.progress, State.NOTING, turn, None, 0), event)[0] is None
