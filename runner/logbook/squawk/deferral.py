"""PURE: 14 CFR 91.213(d) as questions with their paragraphs. Answers are reported, nothing is decided.

The wording of the questions is ours; the regulation's own text counts. It does not apply under an approved
minimum equipment list, nor to operations outside 14 CFR part 91.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final


@dataclass(frozen=True, slots=True)
class ParagraphQuestion:
    """One question of the paragraph."""

    paragraph: str
    """As typed with an answer: `d2i`."""
    citation: str
    text: str
    asked_for: bool
    """The answer under which the paragraph lets an item stay inoperative."""


QUESTIONS: Final = (
    ParagraphQuestion(
        "d1",
        "14 CFR 91.213(d)(1)",
        "Is the aircraft of a class that this paragraph covers (among airplanes: not turbine-powered, "
        "and small where a master minimum equipment list exists)?",
        asked_for=True,
    ),
    ParagraphQuestion(
        "d2i",
        "14 CFR 91.213(d)(2)(i)",
        "Is the item part of the VFR-day instruments and equipment that the type certification prescribes?",
        asked_for=False,
    ),
    ParagraphQuestion(
        "d2ii",
        "14 CFR 91.213(d)(2)(ii)",
        "Does the equipment list, or the kinds of operations equipment list, show it as required "
        "for this kind of flight?",
        asked_for=False,
    ),
    ParagraphQuestion(
        "d2iii",
        "14 CFR 91.213(d)(2)(iii)",
        "Does 14 CFR 91.205 or another rule of part 91 require it for this kind of flight?",
        asked_for=False,
    ),
    ParagraphQuestion(
        "d2iv",
        "14 CFR 91.213(d)(2)(iv)",
        "Does an airworthiness directive require it to be operational?",
        asked_for=False,
    ),
    ParagraphQuestion(
        "d3",
        "14 CFR 91.213(d)(3)",
        "Is it removed, the control placarded and the maintenance recorded (14 CFR 43.9), "
        'or deactivated and placarded "Inoperative"?',
        asked_for=True,
    ),
    ParagraphQuestion(
        "d4",
        "14 CFR 91.213(d)(4)",
        "Has a pilot or a mechanic, certificated and rated for it, determined that it is no hazard "
        "to the aircraft?",
        asked_for=True,
    ),
)

STANDING: Final = (
    "Reported, not decided: whether the airplane may fly is for the pilot in command and licensed "
    "maintenance, by the regulation's own text, the flight manual and any minimum equipment list."
)


class ParagraphFinding(StrEnum):
    """How an answer stands to its paragraph."""

    AS_ASKED = "as the paragraph asks"
    OTHERWISE = "not as the paragraph asks"
    UNANSWERED = "not answered"


def findings(answers: Mapping[str, bool]) -> Mapping[str, ParagraphFinding]:
    """For each paragraph, how the given answer stands to it."""
    return {question.paragraph: _finding(question, answers) for question in QUESTIONS}


def _finding(question: ParagraphQuestion, answers: Mapping[str, bool]) -> ParagraphFinding:
    if question.paragraph not in answers:
        return ParagraphFinding.UNANSWERED
    is_asked = answers[question.paragraph] is question.asked_for
    return ParagraphFinding.AS_ASKED if is_asked else ParagraphFinding.OTHERWISE


def report_line(answers: Mapping[str, bool]) -> str:
    """What the answers come to, in one sentence that decides nothing."""
    found = findings(answers)
    for finding, lead in (
        (ParagraphFinding.OTHERWISE, "Not as 91.213(d) asks"),
        (ParagraphFinding.UNANSWERED, "Not answered"),
    ):
        paragraphs = [paragraph for paragraph, value in found.items() if value is finding]
        if paragraphs:
            return f"{lead}: {', '.join(paragraphs)}. {STANDING}"
    return f"All answers are as 91.213(d) asks. {STANDING}"
