"""From a hearing to an event: taken, not in force, or not sure enough."""

from runner.core.event import Answered, Misheard, Reason
from runner.language.force import InForce
from runner.language.meaning import Command, Word
from runner.session.live.heard_answer import SURE_FROM, answer_event
from runner.voice.port import Hearing

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
