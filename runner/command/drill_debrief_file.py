"""What is made of a debrief: text on the terminal, JSON."""

from __future__ import annotations

import argparse
from typing import TextIO

from runner.command.record_option import write_json
from runner.drill.debrief.debrief_words import debrief_blocks
from runner.drill.debrief.drill_debrief import DrillDebrief
from runner.logbook.list.entry_wording import moment


def add_forms(group: argparse._ArgumentGroup) -> None:
    """Which forms of a debrief there are."""


def write_forms(debrief: DrillDebrief, arguments: argparse.Namespace, out: TextIO) -> int:
    """Print the debrief."""
    if arguments.json:
        write_json(debrief_json(debrief), out)
    else:
        out.write("\n".join(debrief_lines(debrief)) + "\n")
    return 0


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
