"""`eyesout squawk`: lists squawks and records what people do about them; it reports and never decides."""

import argparse
import json
from collections.abc import Callable, Iterator
from dataclasses import asdict
from typing import Any, TextIO

from runner.command.record_option import add_json, add_logbook, write_json
from runner.command.squawk_remark import closed, deferred, noted, read_answers
from runner.language.catalogue import STANDING_CAUTION
from runner.logbook.list.entry_wording import moment, value_words
from runner.logbook.list.run_list import find_run
from runner.logbook.record.opening import open_own, open_shelf
from runner.logbook.squawk.deferral import QUESTIONS, STANDING, findings, report_line
from runner.logbook.squawk.maintenance_record import Closed, Deferred, Noted, Remark, file_record
from runner.logbook.squawk.squawk_record import Squawk, SquawkState, find_squawk, squawks
from runner.report.draw.text_table import table
from runner.visible import visible, width_of


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What is to be done; the open squawks are listed when nothing is said."""
    parser.set_defaults(airplane=None, all=False)
    add_logbook(parser)
    add_json(parser)
    actions = parser.add_subparsers(dest="action", metavar="ACTION")
    listed = actions.add_parser("list", help="squawks that are not closed, oldest first (usual)")
    listed.add_argument("airplane", nargs="?", help="a registration, or an airplane file's name (all)")
    listed.add_argument("--all", action="store_true", help="closed ones as well")
    _add_form(listed)
    for name, summary in (
        ("show", "one squawk with everything recorded about it"),
        ("note", "add a note or a sound clip"),
        ("defer", "record that a person deferred it: on what reference, until when"),
        ("close", "record who closed it and how"),
    ):
        action = actions.add_parser(name, help=summary)
        action.add_argument("run", help="the run's id, its beginning, or `last`")
        action.add_argument("item", help="the item that raised it")
        _add_details(action, name)
        _add_form(action)
    questions = actions.add_parser("questions", help="14 CFR 91.213(d) as questions; nothing is decided")
    questions.add_argument("answers", nargs="*", metavar="PARAGRAPH=yes|no", help="such as d2i=no")
    _add_form(questions)


def _add_form(action: argparse.ArgumentParser) -> None:
    """The same two options behind the action's name as before it."""
    add_logbook(action, default=argparse.SUPPRESS)
    add_json(action, default=argparse.SUPPRESS)


def _add_details(action: argparse.ArgumentParser, name: str) -> None:
    if name != "show":
        action.add_argument("--by", required=True, metavar="NAME", help="who says so")
    if name == "note":
        action.add_argument("--text", default="", help="the note in words")
        action.add_argument("--clip", metavar="FILE", help="a sound file to keep with it")
    elif name == "defer":
        action.add_argument("--reference", required=True, help="what it is deferred under")
        action.add_argument("--until", required=True, metavar="YYYY-MM-DD", help="the last day of it")
        action.add_argument(
            "--answer", action="append", default=[], metavar="PARAGRAPH=yes|no", help="to 14 CFR 91.213(d)"
        )
    elif name == "close":
        action.add_argument("--how", required=True, help="what was done")


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Do it and print what came of it."""
    actions: dict[str | None, Callable[[argparse.Namespace, TextIO], None]] = {
        None: _list,
        "list": _list,
        "show": _show,
        "questions": _question,
    }
    actions.get(arguments.action, _record)(arguments, out)
    return 0


def _list(arguments: argparse.Namespace, out: TextIO) -> None:
    with open_shelf(arguments.logbook) as shelf:
        found = [
            squawk
            for squawk in squawks(shelf, airplane=arguments.airplane)
            if arguments.all or squawk.state is not SquawkState.CLOSED
        ]
    if arguments.json:
        write_json([_as_json(squawk) for squawk in found], out)
        return
    heads = ("raised, UTC", "registration", "state", "item", "answer", "run")
    rows = [
        (
            moment(squawk.at),
            squawk.registration,
            squawk.state,
            squawk.item,
            value_words(squawk.answer, squawk.value, squawk.unit),
            squawk.run,
        )
        for squawk in found
    ]
    lines = (
        table([heads, *rows], indent="", width=width_of(out)) if rows else ["no squawks that are not closed"]
    )
    out.write("\n".join([*lines, "", STANDING_CAUTION]) + "\n")


def _show(arguments: argparse.Namespace, out: TextIO) -> None:
    with open_shelf(arguments.logbook) as shelf:
        squawk = find_squawk(shelf, find_run(shelf, arguments.run).run, arguments.item)
    _print(squawk, arguments, out)


def _record(arguments: argparse.Namespace, out: TextIO) -> None:
    makers: dict[str, Callable[..., Remark]] = {"note": noted, "defer": deferred, "close": closed}
    with open_own(arguments.logbook) as logbook:
        name = find_run(logbook, arguments.run).run
        find_squawk(logbook, name, arguments.item)
        file_record(logbook, name, makers[arguments.action](arguments, logbook))
        squawk = find_squawk(logbook, name, arguments.item)
    _print(squawk, arguments, out)


def _print(squawk: Squawk, arguments: argparse.Namespace, out: TextIO) -> None:
    if arguments.json:
        write_json(_as_json(squawk), out)
        return
    answer = value_words(squawk.answer, squawk.value, squawk.unit)
    out.write(visible(f"{squawk.registration}, {squawk.item}: {answer}; {squawk.state}") + "\n")
    out.write(f"  run {visible(squawk.run)}\n")
    out.writelines(f"  {visible(line)}\n" for record in squawk.records for line in _remark_lines(record))
    out.write(f"\n{STANDING_CAUTION}\n")


def _remark_lines(record: Remark) -> Iterator[str]:
    lead = f"{moment(record.at)}  {record.by}:"
    match record:
        case Noted():
            yield f"{lead} {record.text}{f' (clip {record.clip})' if record.clip else ''}"
        case Deferred():
            yield f"{lead} deferred until {record.until} under {record.reference}"
            if record.answers:
                yield f"  {report_line(record.answers)}"
        case Closed():
            yield f"{lead} closed: {record.how}"


def _as_json(squawk: Squawk) -> dict[str, Any]:
    records = [{"kind": type(record).__name__.lower()} | asdict(record) for record in squawk.records]
    return asdict(squawk) | {"state": squawk.state, "records": records}


def _question(arguments: argparse.Namespace, out: TextIO) -> None:
    answers = read_answers(arguments.answers)
    found = findings(answers)
    if arguments.json:
        rows = [asdict(question) | {"finding": found[question.paragraph]} for question in QUESTIONS]
        out.write(json.dumps({"questions": rows, "standing": STANDING}, indent=2) + "\n")
        return
    for question in QUESTIONS:
        out.write(f"{question.paragraph:<6}{question.citation}\n      {question.text}\n")
        if answers:
            out.write(f"      {found[question.paragraph]}\n")
    out.write(f"\n{report_line(answers) if answers else STANDING}\n")
