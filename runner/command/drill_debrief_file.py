"""What is made of a debrief: text on the terminal, a page, a sheet of paper, JSON."""

from __future__ import annotations

import argparse
import time
from importlib.metadata import version
from pathlib import Path
from typing import TextIO

from runner.command.record_option import write_json
from runner.command.whole_file import whole_file
from runner.drill.debrief.debrief_words import debrief_blocks
from runner.drill.debrief.drill_debrief import DrillDebrief
from runner.logbook.list.entry_wording import moment
from runner.report.draw.paper import PaperSize, pdf_of
from runner.report.drilled.debrief_page import debrief_page, debrief_sheet
from runner.report.origin import Maker


def add_forms(group: argparse._ArgumentGroup) -> None:
    """Which forms of a debrief there are, beside the text on the terminal."""
    forms = group.add_mutually_exclusive_group()
    forms.add_argument("--html", type=Path, metavar="FILE", help="with --debrief: one page for a screen")
    forms.add_argument("--pdf", type=Path, metavar="FILE", help="with --debrief: a sheet of paper")


def write_forms(debrief: DrillDebrief, arguments: argparse.Namespace, out: TextIO) -> int:
    """Print the debrief."""
    path: Path | None = arguments.html or arguments.pdf
    if path is not None:
        with whole_file(path) as file:
            file.write(_drawn(debrief, as_paper=arguments.pdf is not None))
        out.write(f"wrote {path}\n")
    elif arguments.json:
        write_json(debrief_json(debrief), out)
    else:
        out.write("\n".join(debrief_lines(debrief)) + "\n")
    return 0


def _drawn(debrief: DrillDebrief, *, as_paper: bool) -> bytes:
    maker = Maker(f"eyesout {version('eyesout')}", time.time())
    if as_paper:
        return pdf_of(debrief_sheet(debrief, maker), PaperSize.A4)
    return debrief_page(debrief, maker).encode()


def debrief_lines(debrief: DrillDebrief) -> list[str]:
    """The whole debrief as lines of text."""
    story = debrief.story
    lines = [
        f"DRILL  {debrief.title}: {debrief.state.value}",
        f"       level {story.level}, seed {story.seed}, {moment(debrief.begun_at)} UTC"
        + (f", {debrief.student}" if debrief.student else ""),
    ]
    for head, found in debrief_blocks(debrief):
        lines += ["", head, *(f"  {line}" for line in found)]
    return lines


def debrief_json(debrief: DrillDebrief) -> dict[str, object]:
    """The same for a program."""
    return {
        "is_drill": True,
        "check": debrief.title,
        "student": debrief.student,
        "level": debrief.story.level,
        "seed": debrief.story.seed,
        "state": debrief.state.value,
        "figures": debrief.figures.plain(),
        "blocks": {head: list(lines) for head, lines in debrief_blocks(debrief)},
    }
