"""`eyesout due`: what to practise next, by what was drilled, recited and answered, and by a syllabus."""

from __future__ import annotations

import argparse
import time
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Final, TextIO

from runner.command.record_option import add_json, write_json
from runner.document import read_words
from runner.drill.debrief.debrief_words import NO_TRAINING
from runner.drill.due.due_list import DAY_SECONDS, DueThing, JudgedStandard, due_things, judged_standard
from runner.drill.due.forgetting import RECALL_PERCENT
from runner.drill.due.practice import PracticeKind
from runner.drill.due.syllabus import StandardRow, Syllabus, parse_syllabus
from runner.errors import FileError, UsageError
from runner.logbook.drilled.practice_book import PracticeBook
from runner.place import logbook_folder
from runner.report.draw.text_table import table
from runner.session.data_file import find_airplane, find_check

SHOWN: Final = 12
"""So many due things are listed; --all lists every one."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Whose practice, and by which standard."""
    parser.add_argument("--by", default="", metavar="NAME", help="whose practice")
    parser.add_argument("--syllabus", type=Path, metavar="FILE", help="an instructor's standard, a YAML file")
    parser.add_argument("--all", action="store_true", help="list everything, due or not")
    parser.add_argument("--logbook", type=Path, default=logbook_folder(), help="the logbook's folder")
    add_json(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Print it; FileError for what is wrong with a syllabus."""
    syllabus = None if arguments.syllabus is None else read_syllabus(arguments.syllabus)
    now = time.time()
    with PracticeBook(arguments.logbook) as book:
        practised = book.practised(arguments.by)
    recall = RECALL_PERCENT if syllabus is None else syllabus.recall_percent
    things = due_things(practised, now, recall)
    standard = judged_standard(() if syllabus is None else syllabus.standard, practised, now)
    if arguments.json:
        write_json(due_json(things, standard, syllabus, now), out)
        return 0
    who = f", {arguments.by}" if arguments.by else ""
    lines = [f"DRILL  what to practise{who}: {recall} % should come when it is asked for"]
    if syllabus is not None:
        lines += ["", *_standard_lines(syllabus, standard, now)]
    lines += ["", *_thing_lines(things, now, None if arguments.all else SHOWN), "", NO_TRAINING]
    out.write("\n".join(lines) + "\n")
    return 0


def read_syllabus(path: Path) -> Syllabus:
    """A syllabus whose checks and airplanes are there; FileError at the first that is not."""
    syllabus = parse_syllabus(read_words(path), path)
    for row in syllabus.standard:
        find = find_airplane if row.kind is PracticeKind.QUIZ else find_check
        try:
            find(row.of, path)
        except UsageError as error:
            raise FileError(row.place, str(error)) from None
    return syllabus


def due_json(
    things: Sequence[DueThing], standard: Sequence[JudgedStandard], syllabus: Syllabus | None, now: float
) -> dict[str, object]:
    """The same for a program; times are seconds since the epoch, chances run from 0 to 1."""
    return {
        "is_drill": True,
        "syllabus": None if syllabus is None else syllabus.title,
        "standard": [
            {
                "asks": standard_words(each.row),
                "met_at": each.met_at,
                "is_current": each.is_current,
            }
            for each in standard
        ],
        "things": [
            {
                "kind": each.kind.value,
                "of": each.of,
                "subject": each.subject,
                "situation": each.situation,
                "is_critical": each.is_critical,
                "is_due": each.memory.due_at <= now,
                "due_at": each.memory.due_at,
                "last_at": each.memory.last_at,
                "last": each.memory.last.value,
                "times": each.memory.times,
                "still_there": [each.memory.low, each.memory.high],
            }
            for each in things
        ],
        "caution": NO_TRAINING,
    }


def standard_words(row: StandardRow) -> str:
    """`drill merlow-reserve at level 2 or above, 90 % right, within 30 days`."""
    level = f" at level {row.level} or above" if row.kind is PracticeKind.DRILL else ""
    count = f", {row.questions} questions or more" if row.kind is PracticeKind.QUIZ else ""
    return f"{row.kind} {row.of}{level}{count}, {row.right_percent} % right, within {row.within_days} days"


def _standard_lines(syllabus: Syllabus, standard: Sequence[JudgedStandard], now: float) -> Iterator[str]:
    by = f", by {syllabus.by}" if syllabus.by else ""
    yield f"Standard: {syllabus.title}{by}"
    rows = [(_standing(each, now), standard_words(each.row)) for each in standard]
    yield from table(rows)


def _standing(each: JudgedStandard, now: float) -> str:
    if each.met_at is None:
        return "not yet"
    return f"{'current' if each.is_current else 'lapsed'}, {_ago(each.met_at, now)}"


def _thing_lines(things: Sequence[DueThing], now: float, most: int | None) -> Iterator[str]:
    if not things:
        yield "Nothing was practised yet; begin with `eyesout recite CHECK` or `eyesout quiz AIRPLANE`."
        return
    due = [each for each in things if each.memory.due_at <= now]
    later = [each for each in things if each.memory.due_at > now]
    listed = (due if most is not None else [*due, *later])[:most]
    yield f"Due now: {len(due)} of {len(things)} things, critical ones first"
    if listed:
        heads = ("still there", "critical", "what", "situation", "practise by", "last")
        yield from table([heads, *(_row(each, now) for each in listed)])
    if len(due) > len(listed):
        yield f"  and {len(due) - len(listed)} more; --all lists them"
    if later:
        soonest = min(each.memory.due_at for each in later)
        yield f"The next after these is due on {datetime.fromtimestamp(soonest, UTC):%Y-%m-%d}."


def _row(each: DueThing, now: float) -> tuple[str, ...]:
    memory = each.memory
    return (
        f"{memory.low * 100:.0f} to {memory.high * 100:.0f} %",
        "critical" if each.is_critical else "",
        each.subject,
        each.situation,
        f"{each.kind} {each.of}",
        f"{memory.last}, {_ago(memory.last_at, now)}",
    )


def _ago(at: float, now: float) -> str:
    days = int(max(0.0, now - at) // DAY_SECONDS)
    if days == 0:
        return "today"
    return "1 day ago" if days == 1 else f"{days} days ago"
