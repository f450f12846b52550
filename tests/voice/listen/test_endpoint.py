"""The endpoint, fed with block lengths and flags."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.voice.listen.endpoint import NOTE_PAUSES, PAUSES, Endpoint, Patience, SpeechPhase

BLOCK = 0.03


def hear(endpoint: Endpoint, seconds: float, *, is_speech: bool, is_settled: bool = False) -> Endpoint:
    """Some time of the same."""
    for _ in range(round(seconds / BLOCK)):
        endpoint = endpoint.after(BLOCK, is_speech=is_speech, is_settled=is_settled)
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


def test_a_settled_answer_ends_after_a_short_silence_but_not_within_speech() -> None:
    """The recogniser's word shortens the silence; it does not cut anyone short."""
    speaking = hear(Endpoint(), 0.3, is_speech=True, is_settled=True)
    assert speaking.phase is SpeechPhase.SPEAKING
    assert hear(speaking, 0.15, is_speech=False, is_settled=True).phase is SpeechPhase.ENDED


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
    assert PAUSES[shorter].settled < PAUSES[longer].settled < PAUSES[shorter].end


@given(st.lists(st.tuples(st.floats(0.001, 0.1), st.booleans(), st.booleans()), max_size=300))
def test_phases_only_go_forward(blocks: list[tuple[float, bool, bool]]) -> None:
    """Whatever is heard, an utterance waits, then speaks, then has ended."""
    endpoint, order = Endpoint(), list(SpeechPhase)
    for seconds, is_speech, is_settled in blocks:
        after = endpoint.after(seconds, is_speech=is_speech, is_settled=is_settled)
        assert 0 <= order.index(after.phase) - order.index(endpoint.phase) <= 1
        assert after.length <= after.pauses.longest + 0.1
        endpoint = after
