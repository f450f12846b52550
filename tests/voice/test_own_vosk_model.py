"""The shipped Vosk model: its vocabulary, its unknown word, and five people whom nobody trained on."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest

from runner.place import data_folder
from runner.voice.ear.vosk_ear import UNKNOWN, VoskEar
from runner.voice.port import RATE, Hearing
from tests.voice.ear.test_builtin import CARDS, card, hear, needs_testdata


@pytest.fixture(scope="module")
def ear() -> VoskEar:
    """One ear for all."""
    return VoskEar(data_folder("models") / "vosk")


def hear_card(ear: VoskEar, number: str, phrases: Sequence[str]) -> Hearing:
    """One person, block by block from 100 s on, with a quarter second of silence at both ends."""
    return hear(ear, np.pad(card(number), (RATE // 4, RATE // 4)), phrases)[1]


def test_it_knows_the_words_of_the_trade_and_100_000_others(ear: VoskEar) -> None:
    """And the word for anything else."""
    path: Path = data_folder("models") / "vosk" / "graph" / "words.txt"
    assert len(path.read_text(encoding="utf-8").splitlines()) > 100_000
    words = f"volts flag pulled gyro standby inverter squawk niner fife tree affirm negative {UNKNOWN}"
    assert ear.missing_words([words]) == ()


@needs_testdata
def test_most_people_are_heard_and_none_as_something_else(ear: VoskEar) -> None:
    """Word for word among each other's answers; recordings of CMU's PocketSphinx test data (Debian)."""
    heard = {
        number: hear_card(ear, number, [*CARDS.values(), "say again", "standby"]).text for number in CARDS
    }
    assert sum(heard[number] == text for number, text in CARDS.items()) >= 3
    assert {number for number, text in heard.items() if text not in (CARDS[number], None)} == set()


@needs_testdata
@pytest.mark.parametrize("number", sorted(CARDS))
def test_what_is_not_in_force_is_the_unknown_word(ear: VoskEar, number: str) -> None:
    """Nothing comes out."""
    assert hear_card(ear, number, ["both lit", "flag pulled", "two four decimal six volts"]).text is None


@needs_testdata
def test_words_have_times_on_the_audio_clock(ear: VoskEar) -> None:
    """Within the recording, in order."""
    hearing = hear_card(ear, "003", [CARDS["003"], "negative"])
    assert hearing.text == CARDS["003"]
    assert 100.25 < hearing.onset_at < hearing.ended_at < 100.5 + len(card("003")) / RATE
