"""The built-in ear on real people: Debian's pocketsphinx-testdata."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest
import soundfile

from runner.place import data_folder
from runner.voice.ear.builtin import BuiltinEar
from runner.voice.port import RATE, Block, Guess, Hearing, More, Recogniser, Samples

QUIET = 0.01
TESTDATA = Path("/usr/share/pocketsphinx/test/data")
CARDS = {
    # transcripts: cards/cards.transcription of the package
    "001": "ten of clubs",
    "002": "four queen of clubs",
    "003": "seven of clubs",
    "004": "five five",
    "005": "eight of spades four of clubs seven of hearts",
}
OTHERS = ("nine of clubs", "ten of hearts", "four of clubs", "five nine", "say again", "standby")

needs_testdata = pytest.mark.skipif(
    not TESTDATA.is_dir(), reason="Debian's pocketsphinx-testdata is not installed"
)


@pytest.fixture(scope="module")
def ear() -> BuiltinEar:
    """One ear for all."""
    return BuiltinEar(data_folder("models"))


def hear(ear: Recogniser, samples: Samples, phrases: Sequence[str]) -> tuple[list[Guess], Hearing]:
    """Feed it block by block, from 100 s on the audio clock."""
    ear.expect(phrases)
    guesses = [
        ear.feed(Block(samples[first : first + 480], 100 + first / RATE), silence)
        for first, silence in zip(range(0, len(samples), 480), silences(samples), strict=True)
    ]
    return guesses, ear.finish()


def silences(samples: Samples) -> list[float]:
    """How long each block's end is after the last loud block, as an endpoint in a quiet room has it."""
    found = [0.0]
    for first in range(0, len(samples), 480):
        is_loud = np.abs(samples[first : first + 480]).max() > QUIET
        found.append(0.0 if is_loud else found[-1] + 0.03)
    return found[1:]


def card(number: str) -> Samples:
    """A recording of someone naming playing cards."""
    return np.asarray(soundfile.read(TESTDATA / "cards" / f"{number}.wav", dtype="float32")[0], np.float32)


@needs_testdata
def test_real_people_are_heard(ear: BuiltinEar) -> None:
    """Of five people four are heard among their like, word for word, and none as something else."""
    heard = {number: hear(ear, card(number), [*CARDS.values(), *OTHERS])[1].text for number in CARDS}
    assert sum(heard[number] == text for number, text in CARDS.items()) >= 4
    assert {number for number, text in heard.items() if text not in (CARDS[number], None)} == set()


@needs_testdata
def test_a_phrase_with_a_slurred_word_is_refused_and_not_guessed(ear: BuiltinEar) -> None:
    """In 005 "clubs" sounds like "clothes": too unsure to be taken, and nothing else comes out instead."""
    _, hearing = hear(ear, card("005"), [*CARDS.values(), *OTHERS])
    assert hearing.text in {None, CARDS["005"]}


@needs_testdata
@pytest.mark.parametrize("number", CARDS)
def test_what_was_not_said_is_refused(ear: BuiltinEar, number: str) -> None:
    """With only other phrases in force nothing comes out."""
    _, hearing = hear(ear, card(number), OTHERS)
    assert hearing.text is None


@needs_testdata
def test_connected_digits_are_heard(ear: BuiltinEar) -> None:
    """`dhd.2934z` is two nine three four zero (TIDIGITS naming: z for zero)."""
    raw = np.fromfile(TESTDATA / "tidigits" / "dhd.2934z.raw", dtype="<i2")
    samples = np.asarray(raw / 32768, np.float32)
    _, hearing = hear(
        ear, samples, ["two nine three four zero", "two nine three five zero", "two nine three four"]
    )
    assert hearing.text == "two nine three four zero"


@needs_testdata
def test_a_phrase_settles_before_the_sound_ends_and_its_times_are_on_the_audio_clock(ear: BuiltinEar) -> None:
    """Half a second of silence after `seven of clubs` is more than it waits for."""
    samples = np.concatenate([card("003"), np.zeros(RATE // 2, np.float32)])
    guesses, hearing = hear(ear, samples, [*CARDS.values(), *OTHERS])
    assert "seven of clubs" in [guess.text for guess in guesses if guess.more is More.NOTHING]
    assert 100 < hearing.onset_at < hearing.ended_at < 100 + len(samples) / RATE


@needs_testdata
def test_a_phrase_that_may_go_on_does_not_settle(ear: BuiltinEar) -> None:
    """`five five` may become `five five decimal`."""
    samples = np.concatenate([card("004"), np.zeros(RATE // 2, np.float32)])
    guesses, hearing = hear(ear, samples, ["five five", "five five decimal two"])
    assert {guess.more for guess in guesses} == {More.UNKNOWN, More.WORDS}
    assert hearing.text == "five five"


def test_silence_and_noise_are_nothing(ear: BuiltinEar) -> None:
    """Neither becomes a short word."""
    noise = np.random.default_rng(1).normal(0, 0.05, 2 * RATE).astype(np.float32)
    for samples in (np.zeros(2 * RATE, np.float32), noise):
        assert hear(ear, samples, ["off", "on", "no", "up", "eight"])[1].text is None


def test_with_nothing_in_force_nothing_comes_out(ear: BuiltinEar) -> None:
    """No phrases, no sound: still a hearing."""
    for samples, phrases in ((np.zeros(RATE, np.float32), []), (np.zeros(0, np.float32), ["on"])):
        hearing = hear(ear, samples, phrases)[1]
        assert (hearing.text, hearing.confidence) == (None, 0.0)


def test_words_in_figures_are_missing(ear: BuiltinEar) -> None:
    """Everything that has letters can be heard."""
    assert ear.missing_words(["two four", "24.6 volts", "gronkle out"]) == ("24.6",)
