"""A debrief as one HTML file and as a sheet of paper: the word DRILL on both, in a colour of its own."""

from __future__ import annotations

from runner.drill.debrief.debrief_words import NO_TRAINING, debrief_blocks
from runner.drill.debrief.drill_debrief import DrillDebrief
from runner.report.draw.page_frame import render
from runner.report.draw.paper_sheet import Block, Heading, Sheet, Top, Words
from runner.report.draw.stamp import utc_stamp
from runner.report.origin import Maker


def debrief_page(debrief: DrillDebrief, maker: Maker) -> str:
    """The whole file's text."""
    return render(
        "drill.html",
        maker,
        debrief=debrief,
        registration=debrief.story.setting.airplane.registration,
        blocks=tuple(debrief_blocks(debrief)),
    )


def debrief_sheet(debrief: DrillDebrief, maker: Maker) -> Sheet:
    """What goes on paper, in the same words."""
    registration, figures = debrief.story.setting.airplane.registration, debrief.figures
    blocks: list[Block] = [
        Top(
            "DRILL",
            f"{registration}, {debrief.title}",
            f"{figures.caught} of {figures.hidden} caught",
            (f"level {debrief.story.level}, seed {debrief.story.seed}", debrief.student or "not named"),
        ),
        Words(f"DRILL. {NO_TRAINING} No record of a real airplane.", is_bold=True, is_framed=True),
    ]
    for head, lines in debrief_blocks(debrief):
        blocks += [Heading(head), *(Words(line) for line in lines)]
    return Sheet(
        f"DRILL, {registration}, {utc_stamp(debrief.begun_at)}",
        maker.at,
        f"DRILL. {NO_TRAINING}",
        tuple(blocks),
    )
