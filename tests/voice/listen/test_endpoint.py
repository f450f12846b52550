"""The endpoint, fed with block lengths and flags."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.voice.listen.endpoint import NOTE_PAUSES, PAUSES, UNSEEN_SILENCE, Endpoint, Patience, SpeechPhase
from runner.voice.port import More

BLOCK = 0.03


def hear(endpoint: Endpoint, seconds: float, *, is_speech: bool, more: More = More.UNKNOWN) -> Endpoint:
    """Some time of the same."""
    for _ in range(round(seconds / BLOCK)):
        endpoint = endpoint.after(BLOCK, is_speech=is_speech).guessed(more)
    return endpoint


def test_a_click_begins_nothing() -> None:
    """Two blocks are too short for any word."""
    endpoint = hear(Endpoint(), 2 * BLOCK, is_speech=True)
    assert hear(endpoint, 1.0, is_speech=False).phase is SpeechPhase.WAITING


def test_clicks_far_apart_do_not_add_up() -> None:
    """Silence between them takes back what they counted."""
    endpoint = Endpoint()
    for _ in range(20):
        endpoint = hear(hear(endpoint, BLOCK, is_speech=True), 2 * BLOCK, is_speech=False)
    assert endpoint.phase is SpeechPhase.WAITING


def test_speech_begins_an_utterance_and_silence_ends_it() -> None:
    """Three blocks begin it; the patience's silence ends it, and no less."""
    speaking = hear(Endpoint(), 3 * BLOCK, is_speech=True)
    assert speaking.phase is SpeechPhase.SPEAKING
    assert hear(speaking, 0.57, is_speech=False).phase is SpeechPhase.SPEAKING
    assert hear(speaking, 0.6, is_speech=False).phase is SpeechPhase.ENDED


def test_a_pause_between_digits_does_not_end_it() -> None:
    """Silence counts from the last speech."""
    endpoint = Endpoint()
    for _ in range(4):
        endpoint = hear(hear(endpoint, 0.3, is_speech=True), 0.5, is_speech=False)
    assert endpoint.phase is SpeechPhase.SPEAKING


@pytest.mark.parametrize(
    ("more", "seconds"), [(More.NOTHING, 0.06), (More.UNIT, 0.24), (More.WORDS, 0.48), (More.UNKNOWN, 0.6)]
)
def test_what_is_understood_ends_after_as_much_silence_as_what_may_still_come(
    more: More, seconds: float
) -> None:
    """The recogniser's word shortens the silence; it does not cut anyone short."""
    speaking = hear(Endpoint(), 0.3, is_speech=True, more=more)
    assert hear(speaking, seconds - BLOCK, is_speech=False, more=more).phase is SpeechPhase.SPEAKING
    assert hear(speaking, seconds, is_speech=False, more=more).phase is SpeechPhase.ENDED


def test_where_the_room_never_falls_silent_the_recogniser_tells_the_end() -> None:
    """It must have heard nobody for a while after a phrase that it understood."""
    speaking = hear(Endpoint(), 1.0, is_speech=True)
    assert speaking.guessed(More.UNKNOWN, 2.0).phase is SpeechPhase.SPEAKING
    assert speaking.guessed(More.NOTHING, UNSEEN_SILENCE - BLOCK).phase is SpeechPhase.SPEAKING
    assert speaking.guessed(More.NOTHING, UNSEEN_SILENCE).phase is SpeechPhase.ENDED
    assert speaking.guessed(More.WORDS, UNSEEN_SILENCE).phase is SpeechPhase.SPEAKING
    assert speaking.guessed(More.WORDS, PAUSES[Patience.NORMAL].longer).phase is SpeechPhase.ENDED


def test_a_guess_ends_nothing_before_anyone_has_spoken() -> None:
    """Only an utterance can be over."""
    assert Endpoint().guessed(More.NOTHING, 1.0).phase is SpeechPhase.WAITING


def test_endless_speech_is_cut() -> None:
    """A radio that talks on is over after the longest utterance."""
    assert hear(Endpoint(), 9.9, is_speech=True).phase is SpeechPhase.SPEAKING
    assert hear(Endpoint(), 10.2, is_speech=True).phase is SpeechPhase.ENDED


def test_what_has_ended_stays_ended() -> None:
    """More speech does not bring it back: the next utterance is a new Endpoint."""
    ended = hear(hear(Endpoint(), 0.3, is_speech=True), 0.6, is_speech=False)
    assert hear(ended, 1.0, is_speech=True) == ended


@pytest.mark.parametrize("shorter", [Patience.NORMAL, Patience.QUICK])
def test_less_patience_waits_less(shorter: Patience) -> None:
    """The words are in their order, in each length that matters."""
    order = list(Patience)
    longer = order[order.index(shorter) - 1]
    assert PAUSES[shorter].end < PAUSES[longer].end < NOTE_PAUSES.end
    assert PAUSES[shorter].settled <= PAUSES[longer].settled < PAUSES[shorter].end


@pytest.mark.parametrize("patience", Patience)
def test_the_more_may_follow_the_longer_is_waited(patience: Patience) -> None:
    """Nothing, a unit, words, who knows."""
    pauses = PAUSES[patience]
    assert pauses.settled < pauses.unit < pauses.longer < pauses.end


@given(st.lists(st.tuples(st.floats(0.001, 0.1), st.booleans(), st.sampled_from(More)), max_size=300))
def test_phases_only_go_forward(blocks: list[tuple[float, bool, More]]) -> None:
    """Whatever is heard, an utterance waits, then speaks, then has ended."""
    endpoint, order = Endpoint(), list(SpeechPhase)
    for seconds, is_speech, more in blocks:
        after = endpoint.guessed(more).after(seconds, is_speech=is_speech)
        assert 0 <= order.index(after.phase) - order.index(endpoint.phase) <= 1
        assert after.length <= after.pauses.longest + 0.1
        endpoint = after
