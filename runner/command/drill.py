"""`eyesout drill CHECK`: the check against a played airplane in which something is wrong, and the debrief."""

from __future__ import annotations

import argparse
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path
from typing import Final, TextIO

from runner.airplane.model.airplane import Airplane
from runner.command.drill_debrief_file import add_forms, write_forms
from runner.command.figure import add_seed, seed_of, whole
from runner.command.record_option import write_json
from runner.command.run import add_answering
from runner.document import nearest_one
from runner.drill.debrief.debrief_words import NO_TRAINING
from runner.drill.played.hidden import Hidden, hidden_faults_of
from runner.drill.story.drill_level import LEVELS
from runner.drill.story.drill_story import DrillStory, hideable, invent_story
from runner.drill.story.emergency import invent_emergency
from runner.errors import UsageError
from runner.language.spelling import normalise
from runner.logbook.drilled.drill_book import DrillBook, DrillSummary
from runner.logbook.list.entry_wording import moment
from runner.place import logbook_folder
from runner.report.draw.text_table import table
from runner.session.data_file import SUFFIX
from runner.session.drilled.drill_review import review
from runner.session.parts import Parts, assemble, load_parts

MOST_FAULTS: Final = 9
LARGEST_PORT: Final = 65_535


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What is drilled, how hard, and what is wanted of drills that were."""
    parser.add_argument("check", nargs="?", default="", help="a shipped check's name, or a YAML file")
    what = parser.add_argument_group("what is wrong")
    hidden = what.add_mutually_exclusive_group()
    hidden.add_argument(
        "--fault", action="append", default=[], metavar="FAULT", help='"NAME: what is wrong"; may be repeated'
    )
    hidden.add_argument(
        "--random", type=whole(0, MOST_FAULTS), metavar="N", help="so many faults, chosen by the seed"
    )
    levels = ", ".join(f"{number} {level.words}" for number, level in LEVELS.items())
    what.add_argument(
        "--level", type=whole(1, max(LEVELS)), default=1, metavar=f"1..{max(LEVELS)}", help=levels
    )
    add_seed(what, "tells the same story")
    what.add_argument("--faults", action="store_true", help="list what can be hidden in this check")
    add_answering(parser)
    _add_instructor(parser)
    after = parser.add_argument_group("afterwards")
    after.add_argument("--by", default="", metavar="NAME", help="who drills")
    after.add_argument("--list", action="store_true", help="the drills so far")
    after.add_argument(
        "--debrief", nargs="?", const="last", metavar="DRILL", help="the debrief of a drill (the last)"
    )
    add_forms(after)
    after.add_argument("--logbook", type=Path, default=logbook_folder(), help="the logbook's folder")
    parser.add_argument("--json", action="store_true", help="with --list, --faults or --debrief: as JSON")


def _add_instructor(parser: argparse.ArgumentParser) -> None:
    """Whether there is a page, and where."""
    group = parser.add_argument_group("an instructor beside it")
    group.add_argument(
        "--instructor", action="store_true", help="serve a page with the true state, for a second screen"
    )
    group.add_argument(
        "--host",
        metavar="H",
        help="the address to serve it at (this computer only; 0.0.0.0: all)",
    )
    group.add_argument("--port", type=whole(0, LARGEST_PORT), metavar="P", help="the port (any free one)")


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Drill, or tell of drills; 0 when the check was completed."""
    if arguments.list:
        return _list(arguments, out)
    if arguments.debrief is not None:
        return _debrief(arguments, out)
    if not arguments.check:
        raise UsageError("name a check, such as merlow-reserve; --list shows the drills so far")
    parts = load_parts(arguments.check)
    airplane = parts.airplane
    if airplane is None:
        raise UsageError(f"a drill plays an airplane, and {parts.check.name} is for any; name another check")
    if arguments.faults:
        return _faults(parts, airplane, arguments, out)
    if LEVELS[arguments.level].is_emergency:
        parts, story = _emergency(parts, airplane, arguments)
    else:
        story = story_of(parts, airplane, arguments)
    from runner.command.drill_live import run_drill  # noqa: PLC0415 - the screen takes time to load

    return run_drill(parts, story, arguments, out)


def _emergency(parts: Parts, airplane: Airplane, arguments: argparse.Namespace) -> tuple[Parts, DrillStory]:
    """The airplane of the check in the air, with a check of its own."""
    if arguments.fault or arguments.random is not None:
        raise UsageError(f"level {arguments.level} has a fault of its own; choose another with --seed")
    found = invent_emergency(
        airplane, airplane.name, datetime.now(UTC).date(), level=arguments.level, seed=seed_of(arguments)
    )
    path = Path(f"{airplane.name}-emergency{SUFFIX}")
    own = assemble(found.check_text, path, parts.airplane_text, Path(f"{airplane.name}{SUFFIX}"))
    return own, found.story


def story_of(parts: Parts, airplane: Airplane, arguments: argparse.Namespace) -> DrillStory:
    """The story that is asked for."""
    return invent_story(
        parts.check,
        airplane,
        datetime.now(UTC).date(),
        level=arguments.level,
        seed=seed_of(arguments),
        faults=[fault_named(words, airplane) for words in arguments.fault],
        count=arguments.random,
    )


def fault_named(words: str, airplane: Airplane) -> Hidden:
    """The fault that is meant, by its words or by a name that has only one; UsageError names the nearest."""
    wanted = normalise(words)
    known = {str(each): each for each in hidden_faults_of(airplane)}
    exact = [each for said, each in known.items() if normalise(said) == wanted]
    named = [each for each in known.values() if normalise(each.name) == wanted and not each.comes_and_goes]
    if len(exact or named) == 1:
        return (exact or named)[0]
    if named:
        kinds = ", ".join(dict.fromkeys(str(each) for each in named))
        raise UsageError(f'"{words}" can be wrong in several ways; write one of: {kinds}')
    advice = nearest_one(words, known) or "`--faults` lists what there is"
    raise UsageError(f'no fault "{words}"; {advice}')


def _faults(parts: Parts, airplane: Airplane, arguments: argparse.Namespace, out: TextIO) -> int:
    found = [str(each) for each in hideable(parts.check, airplane)]
    if arguments.json:
        write_json(found, out)
    else:
        out.write("\n".join(found) + "\n")
    return 0


def _list(arguments: argparse.Namespace, out: TextIO) -> int:
    with DrillBook(arguments.logbook) as book:
        found = book.drills(arguments.by or None)
    if arguments.json:
        write_json([asdict(one) for one in found], out)
        return 0
    if not found:
        out.write("no drills yet\n")
        return 0
    heads = ("started, UTC", "student", "check", "level", "caught", "invented", "DRILL")
    out.write("\n".join(table([heads, *map(_row, found)], indent="")) + f"\n{NO_TRAINING}\n")
    return 0


def _row(one: DrillSummary) -> tuple[str, ...]:
    caught = f"{one.figures['caught']} of {one.figures['hidden']}" if one.figures else "-"
    level = str(one.level) if one.level else "rehearsal"
    invented = str(one.figures.get("invented", "-"))
    return moment(one.started_at), one.student or "-", one.check, level, caught, invented, one.drill


def _debrief(arguments: argparse.Namespace, out: TextIO) -> int:
    with DrillBook(arguments.logbook) as book:
        debrief = review(book, arguments.debrief)
    return write_forms(debrief, arguments, out)
