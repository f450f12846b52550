"""What a listener gives out becomes events, each by the phrases of its own turn."""

import numpy as np

from runner.core.event import Answered, Misheard, NoteEnded, Reason, RoomGrewLoud, RoomGrewQuiet
from runner.language.catalogue import Word
from runner.language.force import InForce
from runner.language.meaning import Command
from runner.session.live.interpreter import SURE_FROM, Interpreter, answer_event
from runner.voice.listen.noise import Loudness
from runner.voice.listen.result import Level, Recorded, RoomChanged, UtteranceHeard
from runner.voice.port import RATE, Hearing, Samples

AFFIRM = InForce({"affirm": Command(Word.AFFIRM)})
STANDBY = InForce({"standby": Command(Word.STANDBY)})


def _interpreter(kept: list[int]) -> Interpreter:
    def keep(samples: Samples) -> str:
        kept.append(len(samples))
        return "clip.wav"

    return Interpreter(keep)


def _heard(turn: int, text: str) -> UtteranceHeard:
    return UtteranceHeard(turn, Hearing(text, 0.9, 1.0, 1.5, 0.01), 1.6)


def test_an_answer_is_read_by_the_phrases_of_its_own_turn() -> None:
    """What began in the turn before is judged by what was in force then."""
    interpreter = _interpreter([])
    interpreter.listen(1, AFFIRM)
    interpreter.listen(2, STANDBY)
    assert isinstance(interpreter.event_of(_heard(1, "affirm")), Answered)
    assert isinstance(interpreter.event_of(_heard(2, "affirm")), Misheard)


def test_an_answer_to_a_turn_long_past_is_stale_and_no_error() -> None:
    """Two keys were pressed while it was being said: its phrases are gone, and the ear goes on."""
    interpreter = _interpreter([])
    for turn in (1, 2, 3):
        interpreter.listen(turn, AFFIRM)
    late = interpreter.event_of(_heard(1, "affirm"))
    assert isinstance(late, Misheard)
    assert (late.turn, late.text) == (1, "affirm")


def test_only_a_room_that_is_too_loud_takes_the_voice_away() -> None:
    """A loud room is still one to be heard in."""
    interpreter = _interpreter([])
    assert isinstance(interpreter.event_of(RoomChanged(1.0, Loudness.TOO_LOUD, -20.0)), RoomGrewLoud)
    assert isinstance(interpreter.event_of(RoomChanged(1.0, Loudness.LOUD, -35.0)), RoomGrewQuiet)


def test_a_note_is_kept_and_named_and_an_empty_one_is_not() -> None:
    """The event has the clip's name and its length."""
    kept: list[int] = []
    interpreter = _interpreter(kept)
    note = interpreter.event_of(Recorded(1, np.zeros(RATE, np.float32), 0.0, 1.0))
    assert note == NoteEnded(1.0, "clip.wav", 1.0)
    assert interpreter.event_of(Recorded(1, np.zeros(0, np.float32), 0.0, 2.0)) == NoteEnded(2.0, "", 0.0)
    assert kept == [RATE]


def test_a_level_is_no_event() -> None:
    """The meter moves; the run does not."""
    assert _interpreter([]).event_of(Level(1.0, -40.0, -60.0, is_speech=False, is_gated=False)) is None


FORCE = InForce({"affirm": Command(Word.AFFIRM)})


def _hearing(text: str | None, confidence: float = 0.9) -> Hearing:
    return Hearing(text, confidence, onset_at=5.0, ended_at=5.6, compute_seconds=0.01)


def test_a_sure_phrase_is_an_answer_with_its_onset() -> None:
    """Meaning, turn and the onset of speech travel with the event."""
    event = answer_event(_hearing("affirm"), 7, FORCE)
    assert isinstance(event, Answered)
    assert (event.meaning, event.turn, event.onset_at) == (Command(Word.AFFIRM), 7, 5.0)


def test_nothing_in_force_is_misheard() -> None:
    """A recogniser that refuses, or text that is no phrase, gives no answer."""
    for text in (None, "affirmation"):
        event = answer_event(_hearing(text), 7, FORCE)
        assert isinstance(event, Misheard)
        assert event.reason is Reason.UNKNOWN


def test_a_phrase_below_the_bar_is_asked_again() -> None:
    """The bar itself counts as sure."""
    event = answer_event(_hearing("affirm", SURE_FROM - 0.01), 7, FORCE)
    assert isinstance(event, Misheard)
    assert event.reason is Reason.UNSURE
    assert isinstance(answer_event(_hearing("affirm", SURE_FROM), 7, FORCE), Answered)
