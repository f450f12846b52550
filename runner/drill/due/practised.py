"""What was practised, as lines: of a recitation, of an answer to a quiz, of a drill that was judged."""

from __future__ import annotations

from collections.abc import Iterator

from runner.checklist.format.check import Check, Item
from runner.drill.debrief.drill_debrief import DrillDebrief
from runner.drill.due.practice import Practice, PracticeGrade, Sitting
from runner.drill.judged.judgement import AnswerVerdict, JudgedAnswer
from runner.drill.played.hidden import Hidden
from runner.drill.quiz.quiz_question import QuizQuestion
from runner.drill.recited.recitation import Recitation

FROM_MEMORY = "from memory"
ALL_WELL = "nothing wrong there"


def practice_of_recitation(check: Check, found: Recitation, sitting: Sitting) -> Iterator[Practice]:
    """A line for each item that was judged; what is in doubt leaves none."""
    grades = {
        **dict.fromkeys(found.right, PracticeGrade.RIGHT),
        **dict.fromkeys((each.item for each in found.misplaced), PracticeGrade.SLOW),
        **dict.fromkeys(found.omitted, PracticeGrade.WRONG),
    }
    for name, grade in grades.items():
        yield Practice(sitting, sitting.begun_at, name, FROM_MEMORY, is_dear(check.item(name)), grade)


def practice_of_answer(question: QuizQuestion, picked: int, at: float, sitting: Sitting) -> Practice:
    """The line of one answer, given at `at` (seconds since the epoch)."""
    grade = PracticeGrade.RIGHT if picked == question.right else PracticeGrade.WRONG
    return Practice(sitting, at, question.subject, question.position, question.is_critical, grade)


def practice_of_drill(check: Check, debrief: DrillDebrief, sitting: Sitting) -> Iterator[Practice]:
    """A line for each answer, in the situation that the faults made of it, and for each fault without one.

    A fault that could not be seen, as the drill went, leaves none.
    """
    shown = set[Hidden]()
    for answer in debrief.judgement.answers:
        shown.update(answer.shows)
        situation = ", ".join(map(str, answer.shows)) or ALL_WELL
        dear = is_dear(check.item(answer.item))
        yield Practice(sitting, answer.onset_at, answer.item, situation, dear, _grade(answer))
    for fault in debrief.judgement.faults:
        if fault.seen_at is not None and fault.fault not in shown:
            grade = PracticeGrade.WRONG if fault.caught_at is None else PracticeGrade.RIGHT
            at = fault.caught_at or fault.seen_at
            yield Practice(sitting, at, fault.fault.name, str(fault.fault), is_critical=True, grade=grade)


def is_dear(item: Item) -> bool:
    """Whether an item may be neither skipped nor put off."""
    return item.critical or item.restores


def _grade(answer: JudgedAnswer) -> PracticeGrade:
    if answer.verdict is not AnswerVerdict.RIGHT:
        return PracticeGrade.WRONG
    return PracticeGrade.SLOW if answer.is_hasty else PracticeGrade.RIGHT
