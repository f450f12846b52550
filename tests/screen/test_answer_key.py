"""Which key gives which answer."""

from runner.checklist.format.check import Response
from runner.core.ask.outlook import Possible
from runner.language.catalogue import Outcome
from runner.language.meaning import Picked, Pulled, Stuck
from runner.screen.answer_key import AFFIRM, CONTINUE, NEGATIVE, keyed
from runner.screen.keys import WORD_KEYS
from runner.screen.view import AnswerView


def test_an_answer_has_the_key_of_its_response() -> None:
    """Label, meaning and outcome go with it."""
    response = Response("left out", ("left out",), Outcome.SQUAWK, "l")
    meaning = Picked("lamps", "left out")
    assert keyed([Possible(response, meaning)]) == (AnswerView("l", "left out", meaning, Outcome.SQUAWK),)


def test_stuck_is_always_a_squawk() -> None:
    """Whatever the file says of its response; pulled keeps its own outcome."""
    response = Response("flag", ("flag",), Outcome.PASS, "g")
    pulled, stuck = keyed([Possible(response, Pulled("gyro")), Possible(response, Stuck("gyro"))])
    assert (pulled.outcome, stuck.outcome) == (Outcome.PASS, Outcome.SQUAWK)


def test_the_only_answer_that_passes_is_expected() -> None:
    """Where several pass, or where nobody asks for it, none is."""
    lit, out, dim = (
        Possible(Response(label, (label,), outcome, label[0]), Picked("lamps", label))
        for label, outcome in (("lit", Outcome.PASS), ("out", Outcome.SQUAWK), ("dim", Outcome.PASS))
    )
    assert [one.is_expected for one in keyed([lit, out], has_space=True)] == [True, False]
    assert [one.is_expected for one in keyed([lit, out])] == [False, False]
    assert [one.is_expected for one in keyed([lit, out, dim], has_space=True)] == [False] * 3


def test_a_word_that_is_waited_for_has_the_small_letter_of_its_capital() -> None:
    """One thing to learn for both."""
    for answer in (AFFIRM, CONTINUE, NEGATIVE):
        assert WORD_KEYS[answer.key.upper()].value == answer.label
