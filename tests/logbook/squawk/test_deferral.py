from itertools import product

import pytest

from runner.logbook.squawk.deferral import QUESTIONS, STANDING, ParagraphFinding, findings, report_line

AS_ASKED = {question.paragraph: question.asked_for for question in QUESTIONS}


def test_the_questions_follow_the_paragraphs_of_91_213_d() -> None:
    """14 CFR 91.213(d): (1) class, (2)(i)-(iv) required by, (3) placarded, (4) no hazard.

    Seen in secondary copies of the regulation; (d)(1) and the wording of (d)(3)(i) from memory.
    """
    assert [question.citation.removeprefix("14 CFR 91.213") for question in QUESTIONS] == [
        "(d)(1)",
        "(d)(2)(i)",
        "(d)(2)(ii)",
        "(d)(2)(iii)",
        "(d)(2)(iv)",
        "(d)(3)",
        "(d)(4)",
    ]
    assert [question.asked_for for question in QUESTIONS] == [True, False, False, False, False, True, True]


@pytest.mark.parametrize("flags", list(product([True, False], repeat=len(QUESTIONS))))
def test_only_one_set_of_answers_is_as_the_paragraph_asks(flags: tuple[bool, ...]) -> None:
    """Not required by any of the four, placarded, no hazard: all 128 sets of answers are tried."""
    answers = dict(zip(AS_ASKED, flags, strict=True))
    found = findings(answers)
    otherwise = [paragraph for paragraph in AS_ASKED if answers[paragraph] != AS_ASKED[paragraph]]
    assert [
        paragraph for paragraph in AS_ASKED if found[paragraph] is ParagraphFinding.OTHERWISE
    ] == otherwise
    assert report_line(answers).startswith("Not as 91.213(d) asks: " if otherwise else "All answers are")


def test_what_is_not_answered_is_said() -> None:
    """One answer missing keeps the sentence from saying all."""
    answers = {paragraph: answer for paragraph, answer in AS_ASKED.items() if paragraph != "d4"}
    assert findings(answers)["d4"] is ParagraphFinding.UNANSWERED
    assert report_line(answers).startswith("Not answered: d4.")


@pytest.mark.parametrize("answers", [{}, AS_ASKED, {"d2i": True}])
def test_nothing_is_ever_decided(answers: dict[str, bool]) -> None:
    """Every report ends by saying who decides."""
    assert report_line(answers).endswith(STANDING)
    assert "safe to fly" not in report_line(answers)
