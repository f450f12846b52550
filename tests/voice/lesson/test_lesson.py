"""The twenty phrases, held against the words that are in force in a run."""

import pytest

from runner.language.catalogue import Word
from runner.place import data_folder
from runner.voice.ear.builtin import BuiltinEar
from runner.voice.lesson.lesson import LESSON, Ask
from runner.voice.port import Hearing


def test_there_are_twenty_and_three_of_them_answer_nothing() -> None:
    """Each once; what answers is in force, what does not is not."""
    assert len({ask.phrase for ask in LESSON}) == 20
    assert sum(not ask.is_answer for ask in LESSON) == 3
    assert all((ask.phrase in ask.phrases) is ask.is_answer for ask in LESSON)


def test_every_kind_of_answer_is_asked_for() -> None:
    """Single short words, gyro flags, volts in digits and in groups, standard words."""
    phrases = [ask.phrase for ask in LESSON if ask.is_answer]
    assert {"affirm", "negative", "lit", "out"} <= set(phrases)
    assert sum("flag pulled" in phrase for phrase in phrases) == 2
    assert sum(ask.is_reading for ask in LESSON) == 4
    assert sum(any(phrase in word.phrases for word in Word) for phrase in phrases) >= 5


def test_the_standard_words_and_the_clocks_are_always_in_force() -> None:
    """As in a run while gyros spin up, so that mistaking one for another can show."""
    for ask in LESSON:
        assert {"negative", "say again", "abandon check", "attitude flag pulled"} <= set(ask.phrases)


def test_the_builtin_ear_knows_every_word() -> None:
    """Of all that is in force."""
    ear = BuiltinEar(data_folder("models"))
    assert [ear.missing_words(ask.phrases) for ask in LESSON] == [()] * 20


@pytest.mark.parametrize(
    ("guess", "is_right"),
    [
        ("two four decimal six volts", True),
        ("twenty four six", True),
        ("two four decimal five volts", False),
        ("negative", False),
        (None, False),
    ],
)
def test_another_form_of_the_same_value_is_right(guess: str | None, is_right: bool) -> None:  # noqa: FBT001 - a case
    """What counts is what it means."""
    ask = next(each for each in LESSON if each.phrase == "two four decimal six volts")
    assert ask.is_right(guess) is is_right


def test_nothing_is_right_for_what_is_no_answer() -> None:
    """Whatever an ear makes of it is wrong, and counts as such."""
    trial = Ask("maybe", ("lit",), is_answer=False).trial(Hearing("lit", 0.8, 0.0, 1.0, 0.0))
    assert (trial.is_answer, trial.is_right, trial.is_taken(0.75)) == (False, False, True)
