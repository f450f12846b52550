"""`eyesout recite CHECK`: the flow from memory, and what was left out, out of place or foreign."""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final, TextIO

from runner.checklist.format.check import Check
from runner.command.answering import Answers, add_listening, answers_of, picked_number
from runner.command.record_option import add_json, write_json
from runner.drill.debrief.debrief_words import NO_TRAINING
from runner.drill.due.practice import PracticeKind, Sitting
from runner.drill.due.practised import is_dear, practice_of_recitation
from runner.drill.recited.flow_order import flow_order
from runner.drill.recited.flow_words import FlowWords, SaidLine
from runner.drill.recited.recitation import Misplaced, Recitation, judge_recitation
from runner.logbook.drilled.practice_book import PracticeBook
from runner.logbook.record.header import run_id
from runner.place import logbook_folder
from runner.session.parts import load_parts

DONE: Final = ("", "done")
LEAVE: Final = "q"
UNDO: Final = "undo"
SPOKEN: Final = {"that is all": "done", "correction": UNDO, "abandon check": LEAVE}
"""Said, they do what is typed otherwise."""
NOT_UNDERSTOOD: Final = SaidLine("not understood", (), is_doubtful=True)
"""It may have been anything."""
NONE_OF_THESE: Final = "0"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The check, and who recites it."""
    parser.add_argument("check", help="a shipped check's name, or a YAML file")
    parser.add_argument("--by", default="", metavar="NAME", help="who recites; kept for `eyesout due`")
    parser.add_argument("--logbook", type=Path, default=logbook_folder(), help="the logbook's folder")
    add_listening(parser)
    add_json(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Listen, clear up what is doubtful, judge; 0 when it was said to the end."""
    parts = load_parts(arguments.check)
    words, prompts = FlowWords(parts.check), sys.stderr if arguments.json else out
    with PracticeBook(arguments.logbook) as book:  # before anybody recites what could not be kept
        prompts.write(
            f"DRILL  recite {parts.check.title}, {len(parts.check.items)} items, from memory.\n"
            "One step a line, by its name, its challenge or its answer. An empty line ends, "
            "undo takes the last one back, q leaves.\n"
        )
        if arguments.listen:
            prompts.write("Said: that is all, correction, abandon check.\n")
        with answers_of(arguments, prompts, SPOKEN) as answers:
            lines = said_lines(words, answers)
        if lines is None:
            prompts.write("DRILL  left; nothing is kept\n")
            return 1
        lines = _corrected(words, _cleared(lines, prompts), prompts)
        found = judge_recitation(parts.check, flow_order(parts.check, parts.airplane), lines)
        now, name = time.time(), parts.check.name
        sitting = Sitting(run_id(now, f"recite-{name}"), now, arguments.by, PracticeKind.RECITE, name)
        book.add(practice_of_recitation(parts.check, found, sitting))
    if arguments.json:
        write_json(recitation_json(parts.check, found), out)
    else:
        out.write("\n".join(recitation_lines(parts.check, found)) + "\n")
    return 0


def recitation_lines(check: Check, found: Recitation) -> Iterator[str]:
    """The judgement, each kind apart."""
    doubt = f", {len(found.doubtful)} of them in doubt" if found.doubtful else ""
    yield ""
    yield f"DRILL  {check.title}: {found.score} of {found.asked}{doubt}"
    for head, told in (
        ("left out", [_marked(check, name) for name in found.omitted]),
        ("out of place", [misplaced_words(each) for each in found.misplaced]),
        ("not in this check", [f'"{text}"' for text in found.intruded]),
        ("said twice", list(found.repeated)),
        ("in doubt, not counted against you", list(found.doubtful)),
        ("asked only after some answers", list(found.optional)),
    ):
        if told:
            yield from ("", head, *(f"  {each}" for each in told))
    yield from ("", NO_TRAINING)


def recitation_json(check: Check, found: Recitation) -> dict[str, object]:
    """The same for a program."""
    return {
        "is_drill": True,
        "check": check.name,
        "score": found.score,
        "asked": found.asked,
        "right": list(found.right),
        "left_out": list(found.omitted),
        "out_of_place": [
            {"item": each.item, "other": each.other, "is_early": each.is_early, "reason": each.reason}
            for each in found.misplaced
        ],
        "not_in_this_check": list(found.intruded),
        "said_twice": list(found.repeated),
        "in_doubt": list(found.doubtful),
        "asked_only_after_some_answers": list(found.optional),
        "caution": NO_TRAINING,
    }


def misplaced_words(each: Misplaced) -> str:
    """`pitot heat off: said before pitot heat on, and belongs after it; both move the pitot heat switch`."""
    said, belongs = ("before", "after") if each.is_early else ("after", "before")
    return f"{each.item}: said {said} {each.other}, and belongs {belongs} it; {each.reason}"


def _marked(check: Check, name: str) -> str:
    return f"{name} (critical)" if is_dear(check.item(name)) else name


def said_lines(words: FlowWords, answers: Answers) -> list[SaidLine] | None:
    """The lines until the end, not judged meanwhile; None when the student leaves or says nothing."""
    lines: list[SaidLine] = []
    while True:
        line = answers.read(f"{len(lines) + 1:>3} > ", words.phrases())
        if line.is_unclear:
            lines.append(NOT_UNDERSTOOD)
        elif line.text == LEAVE or (line.text in DONE and not lines):
            return None
        elif line.text in DONE:
            return lines
        elif line.text == UNDO:
            lines = lines[:-1]
        else:
            lines.append(words.understand(line.text, is_heard=line.is_heard))


def _cleared(lines: Sequence[SaidLine], out: TextIO) -> list[SaidLine]:
    """Ask what each doubtful line meant; whoever does not say leaves it in doubt."""
    return [_asked(line, out) if line.is_doubtful else line for line in lines]


def _asked(line: SaidLine, out: TextIO) -> SaidLine:
    if not line.candidates:
        return line
    choices = ", ".join(f"{place} {name}" for place, name in enumerate(line.candidates, 1))
    out.write(f'DRILL  "{line.text}" may be: {choices}; {NONE_OF_THESE} none of these\n')
    typed = _typed("its number, or enter to leave it in doubt > ", out)
    if typed == NONE_OF_THESE:
        return SaidLine(line.text, (), is_doubtful=False)
    number = picked_number(typed, len(line.candidates))
    if number is not None:
        return replace(line, candidates=(line.candidates[number - 1],), is_doubtful=False)
    return line


def _corrected(words: FlowWords, lines: Sequence[SaidLine], out: TextIO) -> list[SaidLine]:
    """Show what was understood, and let any line be said again."""
    done = list(lines)
    while True:
        out.write("DRILL  understood as\n")
        out.writelines(f"{number:>3} {_understood(line)}\n" for number, line in enumerate(done, 1))
        typed = _typed('"5 right words" corrects line 5, enter judges > ', out)
        place, _, meant = typed.partition(" ")
        number = picked_number(place, len(done))
        if typed in DONE:
            return done
        if number is not None and meant.strip():
            done[number - 1 : number] = _cleared([words.understand(meant)], out)
        else:
            out.write(f'"{typed}" is no line; write its number, 1 to {len(done)}, and the right words\n')


def _understood(line: SaidLine) -> str:
    if line.is_doubtful:
        return f'"{line.text}" in doubt'
    if not line.candidates:
        return f'"{line.text}" like nothing in this check'
    return f'"{line.text}" as {line.candidates[0]}'


def _typed(prompt: str, out: TextIO) -> str:
    """The next line; an empty one when there are no more."""
    out.write(prompt)
    out.flush()
    return sys.stdin.readline().strip()
