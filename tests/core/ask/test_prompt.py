from decimal import Decimal

import pytest

from runner.core.answer_origin import AnswerOrigin, Reception
from runner.core.ask import prompt
from runner.core.event import Started
from runner.core.record.entry import ConfirmationAsked
from runner.language.catalogue import Word
from runner.language.number import spoken_seconds
from tests.core.sample import Run, begun, completed, kinds, powered


@pytest.mark.parametrize(
    ("parts", "text"),
    [
        (("one", "Two?", "", " three. "), "One. Two? Three."),
        ((), ""),
        (("", "  "), ""),
    ],
)
def test_parts_become_sentences(parts: tuple[str, ...], text: str) -> None:
    """Each with its capital and its end, so that a voice pauses."""
    assert prompt.sentences(*parts) == text


@pytest.mark.parametrize(
    ("seconds", "spoken"), [(1.4, "one second"), (12.5, "one three seconds"), (60.0, "six zero seconds")]
)
def test_durations_are_spoken_in_whole_seconds(seconds: float, spoken: str) -> None:
    """Digit by digit (ICAO Annex 10 Vol II 5.2.1.4.1)."""
    assert spoken_seconds(seconds) == spoken


def test_the_end_counts_squawks_cautions_and_what_was_not_done() -> None:
    """One is singular; none is said."""
    run = powered().read("31").say(Word.AFFIRM).say(Word.UNABLE).pick("radio", "alive").tick(50)
    run.pulled("left flag").pulled("right flag").pick("normal", "normal").pick("call", "check complete")
    assert run.said == (
        "Check complete. Three squawks, one caution, one item not done. "
        "The flight manual and the pilot in command decide."
    )


def test_a_caution_that_waits_is_called_a_caution() -> None:
    """Not every value out of the pass band is a squawk."""
    assert powered().read("22.5").said == "Two two decimal five volts is a caution. Affirm or negative."


def test_no_prompt_says_that_an_airplane_is_safe() -> None:
    """Over a run that speaks every kind of sentence."""
    run = Run().start()
    said = [run.say(word).said for word in Word if word is not Word.ABANDON]
    said.append(completed().said)
    assert not any("safe" in text.lower() or "fly" in text.lower().split() for text in said)


def test_a_confirmation_of_what_is_no_reading_is_a_programming_error() -> None:
    """The machine never asks for one."""
    progress = begun().machine.progress
    origin = AnswerOrigin(1.0, None, is_hasty=False, reception=Reception("", 1.0, "keys"))
    asked = ConfirmationAsked(1.0, "fit", VALUE, origin)
    with pytest.raises(TypeError, match="no reading"):
        prompt.question(progress.after(asked))


VALUE = Decimal(1)


def test_a_run_not_yet_started_asks_nothing() -> None:
    """Its first words come with Started."""
    run = Run()
    assert prompt.question(run.machine.progress) == ""
    assert kinds(run.take(Started(1.0)).new) == ["RunStarted"]
