"""The review of a drill: its debrief from what the book of drills holds of it."""

from __future__ import annotations

from pathlib import Path

from runner.drill.debrief.drill_debrief import DrillDebrief, DrillTape, debrief_of
from runner.errors import UsageError
from runner.logbook.drilled.drill_book import DrillBook, DrillRecord
from runner.logbook.drilled.drill_header import story_from_json
from runner.session.data_file import SUFFIX
from runner.session.parts import Parts, assemble


def review(book: DrillBook, drill: str) -> DrillDebrief:
    """The debrief of a drill by its id, or of the last; UsageError for a rehearsal without an airplane."""
    record = book.read(drill)
    header = record.header
    parts = parts_of_drill(record)
    if not header.story or parts.airplane is None:
        raise UsageError(
            f"drill {header.drill} is a plain rehearsal; nothing was hidden, so nothing is judged"
        )
    story = story_from_json(header.story, parts.airplane)
    earlier = [
        each.figures
        for each in reversed(book.drills(header.student))
        if each.check == header.check and each.figures and each.started_at < header.started_at
    ]
    tape = DrillTape(header.started_at, record.ended_at, record.entries, record.events)
    return debrief_of(story, parts.plan, tape, student=header.student, before=earlier)


def parts_of_drill(record: DrillRecord) -> Parts:
    """The check and the airplane that a drill was made with."""
    header = record.header
    airplane_path = Path(f"{header.airplane}{SUFFIX}") if header.airplane else None
    return assemble(
        header.check_text,
        Path(f"{header.check}{SUFFIX}"),
        header.airplane_text,
        airplane_path,
        is_recorded=True,
    )
