"""A whole drill with a scripted student through the real ear, on a simulated clock."""

from __future__ import annotations

import time
from contextlib import ExitStack
from datetime import UTC, datetime
from pathlib import Path
from typing import Final, TextIO

import numpy as np

from runner.command.drill_debrief_file import debrief_lines
from runner.command.drill_live import CLIPS, begin_drill, headphones
from runner.command.pilot import EXCHANGE, stamp, studio_of
from runner.core.state import State
from runner.drill.drill_desk import DrillDesk
from runner.drill.played.hidden import Hidden, HiddenKind
from runner.drill.story.drill_story import DrillStory, invent_story
from runner.errors import UsageError
from runner.language.catalogue import STANDING_CAUTION
from runner.logbook.drilled.drill_book import DrillBook
from runner.place import data_folder
from runner.session.drilled.drill_review import review
from runner.session.drilled.drill_session import DrillSession
from runner.session.engine import make_recogniser
from runner.session.live.note_clip import ClipFolder
from runner.session.parts import Parts, load_parts
from runner.session.scripted.pilot_script import load_script, refuse_unknown
from runner.session.scripted.scripted_run import Cast, Told, run_scripted
from runner.voice.background import Background
from runner.voice.port import RATE, Sound
from runner.voice.sound import write_sound

STUDENT: Final = "merlow-student.yaml"
LEVEL: Final = 4
SEED: Final = 1
FAULTS: Final = (
    Hidden(HiddenKind.DEAF, "communication 2"),
    Hidden(HiddenKind.BULB_OUT, "gear lamps", "nose"),
)
"""The student sees the first and says that the second is well."""


def run_drill_demo(folder: Path, engine: str, out: TextIO) -> int:
    """Drill, print what is said and heard, then the debrief; 0 when the check was completed."""
    began = time.perf_counter()
    place = data_folder("demo") / STUDENT
    script = load_script(place, noises=tuple(Background))
    parts = load_parts(script.check, beside=place)
    refuse_unknown(script, parts.check)
    story = _story(parts, script.start_at)
    recogniser = make_recogniser(engine, parts.check.pronounce)
    out.write(f"{STANDING_CAUTION}\n\n")
    with ExitStack() as stack:
        book = stack.enter_context(DrillBook(folder / "logbook"))
        handle = begin_drill(
            book, parts, story, student="demo student", started_at=script.start_at, engine=engine
        )
        desk = DrillDesk(story, handle.started_at, handle.happen)
        studio = stack.enter_context(studio_of(script, headphones(SEED)))
        cast = Cast(script, studio, recogniser, ClipFolder(folder / "logbook" / CLIPS, handle.run))

        def tell(line: Told) -> None:
            out.write(f"{stamp(line.at)}  {line.who:<8} {line.text}\n")
            out.flush()

        done = run_scripted(
            parts,
            cast,
            handle,
            tell,
            lambda machine, append, stage: DrillSession(machine, append, stage, desk),
        )
        write_sound(folder / EXCHANGE, Sound(np.concatenate(done.tape), RATE))
        debrief = review(book, handle.run)
        book.close_drill(handle.run, debrief.begun_at + debrief.figures.seconds, debrief.figures.plain())
    closing = f"drill   {handle.run}, run in {time.perf_counter() - began:.1f} s"
    out.write("\n".join(["", *debrief_lines(debrief), "", closing]) + "\n")
    return 0 if done.state is State.COMPLETE else 1


def _story(parts: Parts, start_at: float) -> DrillStory:
    if parts.airplane is None:
        raise UsageError(f"{parts.check.name} has no airplane to be played")
    on = datetime.fromtimestamp(start_at, UTC).date()
    return invent_story(parts.check, parts.airplane, on, level=LEVEL, seed=SEED, faults=FAULTS)
