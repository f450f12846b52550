"""`eyesout quiz AIRPLANE`: what lives where, what dies and why, which seat, how long; by typed numbers."""

from __future__ import annotations

import argparse
import time
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Final, TextIO

from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.model.airplane import Airplane
from runner.command.answering import Answers, add_listening, answers_of, picked_number
from runner.command.figure import add_seed, seed_of, whole
from runner.command.record_option import add_json, write_json
from runner.drill.debrief.debrief_words import NO_TRAINING
from runner.drill.due.practice import Practice, PracticeGrade, PracticeKind, Sitting
from runner.drill.due.practised import practice_of_answer
from runner.drill.quiz.quiz import invent_quiz
from runner.drill.quiz.quiz_question import QuizQuestion
from runner.logbook.drilled.practice_book import PracticeBook
from runner.logbook.record.header import run_id
from runner.place import logbook_folder
from runner.session.data_file import find_airplane

MOST_QUESTIONS: Final = 100
LEAVE: Final = ("q", "quit")
SPOKEN: Final = {"one": "1", "two": "2", "three": "3", "four": "4", "abandon check": "q"}
"""Said, they are typed otherwise."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The airplane, how many questions, and who answers."""
    parser.add_argument("airplane", help="a shipped airplane's name, or a YAML file")
    parser.add_argument(
        "--count", type=whole(1, MOST_QUESTIONS), default=10, metavar="N", help="so many questions (10)"
    )
    add_seed(parser, "asks the same questions")
    parser.add_argument("--by", default="", metavar="NAME", help="who answers; kept for `eyesout due`")
    parser.add_argument("--logbook", type=Path, default=logbook_folder(), help="the logbook's folder")
    add_listening(parser)
    add_json(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Ask, or print all with their answers as JSON; 0 when every question was answered."""
    airplane = load_airplane(find_airplane(arguments.airplane))
    seed = seed_of(arguments)
    questions = invent_quiz(airplane, datetime.now(UTC).date(), seed, arguments.count)
    if arguments.json:
        write_json(quiz_json(airplane, seed, list(questions)), out)
        return 0
    out.write(f"DRILL  quiz on {airplane.title}, seed {seed}. Type the number of an answer, or q to leave.\n")
    with PracticeBook(arguments.logbook) as book, answers_of(arguments, out, SPOKEN) as answers:
        answered, is_left = _ask_all(questions, airplane, arguments, book, (answers, out))
        before = [
            each
            for each in book.practised(arguments.by)
            if (each.sitting.kind, each.sitting.of) == (PracticeKind.QUIZ, airplane.name)
            and each not in answered
        ]
    _close(answered, before, out)
    return int(is_left)


def quiz_json(airplane: Airplane, seed: int, questions: Sequence[QuizQuestion]) -> dict[str, object]:
    """Questions and answers as plain data, for a paper or a class."""
    return {
        "is_drill": True,
        "airplane": airplane.name,
        "seed": seed,
        "questions": [
            {
                "topic": each.topic.value,
                "about": each.about,
                "position": each.position,
                "question": each.text,
                "choices": list(each.choices),
                "right": each.right,
                "why": each.why,
                "is_critical": each.is_critical,
            }
            for each in questions
        ],
        "caution": NO_TRAINING,
    }


def _ask_all(
    questions: Iterator[QuizQuestion],
    airplane: Airplane,
    arguments: argparse.Namespace,
    book: PracticeBook,
    room: tuple[Answers, TextIO],
) -> tuple[list[Practice], bool]:
    """What was answered, on disk before the next is asked, and whether the student left before the end."""
    answers, out = room
    now, answered = time.time(), list[Practice]()
    name = run_id(now, f"quiz-{airplane.name}")
    sitting = Sitting(name, now, arguments.by, PracticeKind.QUIZ, airplane.name)
    for number, question in enumerate(questions, 1):
        out.write(f"\nDRILL  {number} of {arguments.count}  {question.text}\n")
        out.writelines(f"  {place}  {choice}\n" for place, choice in enumerate(question.choices, 1))
        picked = picked_choice(len(question.choices), answers, out)
        if picked is None:
            return answered, True
        told = "Right." if picked == question.right else f"No: {question.choices[question.right]}."
        out.write(f"{told} {question.why}\n")
        line = practice_of_answer(question, picked, time.time(), sitting)
        book.add([line])
        answered.append(line)
    return answered, False


def picked_choice(count: int, answers: Answers, out: TextIO) -> int | None:
    """Number of the choice, from 0; None when the student leaves."""
    while True:
        line = answers.read("> ", ())
        typed = line.text.lower()
        if line.is_over or typed in LEAVE:
            return None
        number = picked_number(typed, count)
        if number is not None:
            return number - 1
        if not line.is_unclear:
            out.write(f'"{typed}" is no answer here; type 1 to {count}, or q to leave\n')


def _close(answered: Sequence[Practice], before: Sequence[Practice], out: TextIO) -> None:
    earlier = f"; before, {_right(before)} of {len(before)} on this airplane" if before else ""
    out.write(f"\nDRILL  {_right(answered)} of {len(answered)} right{earlier}\n")
    wrong = [each for each in answered if each.grade is PracticeGrade.WRONG]
    out.writelines(f"  again    {each.subject}, at {each.situation}\n" for each in wrong)
    out.write(f"{NO_TRAINING}\n")


def _right(lines: Sequence[Practice]) -> int:
    return sum(each.grade is PracticeGrade.RIGHT for each in lines)
