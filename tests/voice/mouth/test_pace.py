"""Pace: what is slow, and how slow it is in the sound that is really rendered."""

from collections.abc import Iterator

import numpy as np
import pytest

from runner.voice.mouth.pace import PacedVoice, get_pieces
from runner.voice.mouth.pyttsx3_voice import Pyttsx3Voice
from runner.voice.port import Sound
from runner.voice.sound import trim

MOST_WORDS_A_MINUTE = 100.0
"""ICAO Annex 10 Volume II 5.2.1.5.3, from memory."""


@pytest.fixture(scope="module")
def spoken() -> Iterator[Pyttsx3Voice]:
    """The default voice at its default rate."""
    with Pyttsx3Voice() as voice:
        yield voice


def get_words_a_minute(sound: Sound, words: int) -> float:
    """Speed from the first sound to the last, the pauses around it left out."""
    return words / (trim(sound).seconds / 60.0)


@pytest.mark.parametrize(
    "text",
    [
        "two four decimal six volts.",
        "one one eight decimal one",
        "two two two",
        "niner zero seconds",
        "twenty-four point six volts",
        "tree fife decimal fower amps",
        "one seven percent",
    ],
)
def test_numbers_and_read_backs_are_a_hundred_words_a_minute_or_slower(
    spoken: Pyttsx3Voice, text: str
) -> None:
    """Measured on the rendered sound, at the default rate."""
    words = len(text.split())
    sound = PacedVoice(spoken).render(text)
    assert get_words_a_minute(sound, words) <= MOST_WORDS_A_MINUTE * words / (words - 0.5)
    slots = sound.seconds / 60.0 * MOST_WORDS_A_MINUTE
    assert slots >= words - 0.75  # the last word is not followed by its pause


def test_a_long_number_keeps_the_pace_throughout(spoken: Pyttsx3Voice) -> None:
    """Thirty digits: the edges no longer count, and the rate is under the limit and even."""
    sound = PacedVoice(spoken).render(" ".join(["two", "six", "eight"] * 10))
    assert 85.0 < get_words_a_minute(sound, 30) <= MOST_WORDS_A_MINUTE


def test_running_text_is_not_slowed(spoken: Pyttsx3Voice) -> None:
    """Without numbers the sound is as long as the voice's own."""
    text = "Left main bus, selector to reserve."
    assert PacedVoice(spoken).render(text).seconds == pytest.approx(spoken.render(text).seconds, abs=0.02)


def test_a_number_stands_between_pauses(spoken: Pyttsx3Voice) -> None:
    """Digits in a sentence are set off by a silence on both sides."""
    sound = PacedVoice(spoken).render("Reading two four decimal six volts. Next item.")
    quiet = np.convolve(np.abs(sound.samples) > 0.004, np.ones(sound.rate // 4), "valid") < 0.5
    edges = np.flatnonzero(np.diff(quiet.astype(int)) == 1)
    assert len(edges) >= 2


def test_pieces_are_running_text_and_single_slow_words() -> None:
    """A number is cut into words that are spoken as in a list, up to the end of its sentence."""
    pieces = get_pieces("Pulled in one seven seconds. Next item")
    assert [(piece.text, piece.is_slow) for piece in pieces] == [
        ("Pulled in", False),
        ("one,", True),
        ("seven seconds.", True),
        ("Next item", False),
    ]


@pytest.mark.parametrize("text", ["Bus one is alive", "Say so at once", "volts, read them", ""])
def test_a_word_that_is_no_reading_stays_in_running_text(text: str) -> None:
    """A bus's number, a word that holds one, and a unit alone are not slowed."""
    assert not any(piece.is_slow for piece in get_pieces(text))


def test_an_empty_prompt_is_silent(spoken: Pyttsx3Voice) -> None:
    """Nothing to say is no error."""
    assert len(PacedVoice(spoken).render("").samples) == 0


class Beeping:
    """A voice that takes so many samples at 100 Hz for any text."""

    name = "beeping"

    def __init__(self, count: int) -> None:
        self.count = count

    def render(self, text: str) -> Sound:
        """A tone."""
        return Sound(np.ones(self.count if text else 0, np.float32), 100)


def silences(sound: Sound) -> list[int]:
    """Lengths of the stretches of silence, in hundredths of a second, of a sound that begins loud."""
    edges = np.flatnonzero(np.diff((sound.samples == 0).astype(int), append=0))
    return [int(end - begin) for begin, end in zip(edges[::2], edges[1::2], strict=True)]


@pytest.mark.parametrize(
    ("count", "between"),
    [(20, 42), (50, 12), (60, 8)],  # 0.62 s from start to start; 0.08 s at least
)
def test_slow_words_start_a_slot_apart_and_a_run_stands_between_pauses(count: int, between: int) -> None:
    """Three digits in a sentence: a pause of 0.3 s on both sides, and none at the end."""
    said = PacedVoice(Beeping(count)).render("Reading two four six. Next item")
    assert silences(said) == [30, between, between, 30]
    assert len(said.samples) == 5 * count + 60 + 2 * between


def test_nothing_follows_the_last_word() -> None:
    """The microphone opens at the end of a prompt."""
    assert silences(PacedVoice(Beeping(20)).render("two four")) == [42]


READ_BACKS = ("Squawk, left out.", "Squawk, no light at all.", "Caution, dim.", "Stop, somebody there.")


@pytest.mark.parametrize("text", READ_BACKS)
def test_a_read_back_without_a_number_is_a_hundred_words_a_minute_or_slower(
    spoken: Pyttsx3Voice, text: str
) -> None:
    """Measured on the rendered sound; the voice itself is faster."""
    words = len(text.split())
    sound = PacedVoice(spoken, is_read_back=True).render(text)
    assert get_words_a_minute(sound, words) <= MOST_WORDS_A_MINUTE * words / (words - 0.5)
    assert get_words_a_minute(spoken.render(text), words) > MOST_WORDS_A_MINUTE


def test_a_read_back_is_spoken_by_twos_and_never_across_a_comma() -> None:
    """In the voice's own flow, each two a piece."""
    pieces = get_pieces("Squawk, no light at all.", is_read_back=True)
    assert [piece.text for piece in pieces] == ["Squawk,", "no light,", "at all."]
    assert all(piece.is_slow for piece in pieces)


def test_a_paced_read_back_has_a_name_of_its_own() -> None:
    """So that the cache keeps both ways to say a sentence."""
    voice = Beeping(20)
    assert PacedVoice(voice).name != PacedVoice(voice, is_read_back=True).name
