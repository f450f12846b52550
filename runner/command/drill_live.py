"""A drill or a rehearsal on this terminal: nothing of it comes near the records of a real airplane."""

from __future__ import annotations

import argparse
import sys
from typing import Final, TextIO

from runner.command.closing import finding_lines
from runner.command.drill_debrief_file import debrief_lines
from runner.command.live import ear_of, leave_room, open_room, show_room
from runner.command.terminal import LiveRun
from runner.core.record.run_summary import summarise
from runner.core.state import State
from runner.drill.debrief.debrief_words import NO_TRAINING, spoken_debrief
from runner.drill.debrief.drill_debrief import DrillDebrief
from runner.drill.drill_desk import DrillDesk
from runner.drill.due.practice import PracticeKind, Sitting
from runner.drill.due.practised import practice_of_drill
from runner.drill.story.drill_level import LEVELS
from runner.drill.story.drill_story import DrillStory
from runner.errors import VoiceError
from runner.logbook.drilled.drill_book import DrillBook, DrillHandle
from runner.logbook.drilled.drill_header import DrillHeader, story_to_json
from runner.logbook.drilled.practice_book import PracticeBook
from runner.logbook.record.header import run_id
from runner.session.drilled.drill_review import review
from runner.session.drilled.headphones import Worn, wear
from runner.session.engine import made_with
from runner.session.live.note_clip import ClipFolder
from runner.session.parts import Parts, load_parts
from runner.voice.card.audio_clock import start_clock
from runner.voice.mouth.pyttsx3_voice import make_pilot_voice

OTHERS: Final = "en-us+m1"
"""The voice of other people on the radio."""
CLIPS: Final = "drill-clips"
"""The folder of the notes of drills, beside the logbook's own."""


def run_drill(parts: Parts, story: DrillStory, arguments: argparse.Namespace, out: TextIO) -> int:
    """The check against the played airplane; 0 when it was completed."""
    with DrillBook(arguments.logbook) as book:
        live, handle = _begin(book, parts, story, arguments)
        live.desk = DrillDesk(story, handle.started_at, handle.happen)
        live.find_moves = lambda: " ".join(spoken_debrief(review(book, handle.run)))
        show_room(live, arguments)
        if live.failure is not None and not live.is_hung:
            raise live.failure
        debrief = review(book, handle.run)
        book.close_drill(handle.run, live.room.clock.now(), debrief.figures.plain())
    _practise(parts, debrief, handle, arguments)
    out.write("\n".join([*debrief_lines(debrief), "", f"drill   {handle.run}"]) + "\n")
    return leave_room(live, _code(live), out)


def run_rehearsal(arguments: argparse.Namespace, out: TextIO) -> int:
    """A plain run that is kept with the drills; 0 when it was completed."""
    with DrillBook(arguments.logbook) as book:
        parts = load_parts(arguments.check)
        live, handle = _begin(book, parts, None, arguments)
        live.is_drill = True
        show_room(live, arguments)
        if live.failure is not None and not live.is_hung:
            raise live.failure
        book.close_drill(handle.run, live.room.clock.now(), {})
    summary = summarise(live.machine.progress, live.room.clock.now())
    lines = [f"DRILL  {parts.check.title}: {live.machine.state.value}", *finding_lines(parts, summary)]
    out.write("\n".join([*lines, "", NO_TRAINING, f"drill   {handle.run}"]) + "\n")
    return leave_room(live, _code(live), out)


def _practise(
    parts: Parts, debrief: DrillDebrief, handle: DrillHandle, arguments: argparse.Namespace
) -> None:
    """What of the drill `eyesout due` goes by."""
    sitting = Sitting(
        handle.run,
        handle.started_at,
        debrief.student,
        PracticeKind.DRILL,
        parts.check.name,
        debrief.story.level,
        is_whole=debrief.state is State.COMPLETE,
    )
    with PracticeBook(arguments.logbook) as practice:
        practice.add(practice_of_drill(parts.check, debrief, sitting))


def begin_drill(
    book: DrillBook,
    parts: Parts,
    story: DrillStory | None,
    *,
    student: str,
    started_at: float,
    engine: str | None,
) -> DrillHandle:
    """Open a drill for writing, or a plain rehearsal where there is no story."""
    return book.create(
        DrillHeader(
            drill=run_id(started_at, f"drill-{parts.check.name}"),
            started_at=started_at,
            student=student,
            check=parts.check.name,
            airplane="" if parts.airplane is None else parts.airplane.name,
            registration=parts.registration,
            check_text=parts.check_text,
            airplane_text=parts.airplane_text,
            level=0 if story is None else story.level,
            story={} if story is None else story_to_json(story),
            made_with=made_with(engine),
        )
    )


def _begin(
    book: DrillBook, parts: Parts, story: DrillStory | None, arguments: argparse.Namespace
) -> tuple[LiveRun, DrillHandle]:
    clock = start_clock()
    ear = ear_of(arguments, arguments.by, clock)
    handle = begin_drill(
        book,
        parts,
        story,
        student=arguments.by,
        started_at=clock.now(),
        engine=None if arguments.keys else ear.engine,
    )
    keep_clip = ClipFolder(arguments.logbook / CLIPS, handle.run).keep
    is_noisy = story is not None and LEVELS[story.level].is_noisy and not arguments.keys
    worn = headphones(story.seed) if story is not None and is_noisy else None
    return open_room(arguments, (parts, handle, ()), clock, ear, keep_clip, worn=worn), handle


def headphones(seed: int) -> Worn | None:
    """A noisy ramp in the ears; None, with one line, where no voice can speak for the others."""
    voice = make_pilot_voice(OTHERS)
    try:
        return wear(voice, seed)
    except VoiceError as error:
        sys.stderr.write(f"eyesout: {error}; the ramp stays quiet\n")
        return None
    finally:
        voice.close()


def _code(live: LiveRun) -> int:
    return 0 if live.machine.state is State.COMPLETE else 1
