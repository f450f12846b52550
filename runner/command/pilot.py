"""A run with a scripted pilot, from its files to its record, its sound and what is printed of it."""

from __future__ import annotations

import contextlib
import json
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, TextIO

import numpy as np

from runner.command.closing import finding_lines, value_of
from runner.core.event import Answered, Channel, Misheard
from runner.core.state import State
from runner.language.catalogue import STANDING_CAUTION
from runner.logbook.record.run_store import Logbook
from runner.place import prompt_folder
from runner.session.beginning import begin_run
from runner.session.engine import make_recogniser
from runner.session.live.note_clip import ClipFolder
from runner.session.live.prompt_mouth import make_mouth
from runner.session.parts import Parts, load_parts
from runner.session.scripted.pilot_script import PilotScript, load_script, refuse_unknown
from runner.session.scripted.scripted_run import Cast, ScriptedRun, Told, run_scripted
from runner.session.scripted.studio import ScriptedStudio
from runner.voice.background import Background
from runner.voice.mouth.pyttsx3_voice import make_pilot_voice
from runner.voice.port import RATE, Sound
from runner.voice.sound import write_sound

Tell = Callable[[Told], None]

EXCHANGE: Final = "exchange.wav"


@dataclass(frozen=True, slots=True)
class PilotRun:
    """What is asked for."""

    check: str
    """Empty for the check that the script names."""
    script: Path
    logbook: Path
    """The logbook's folder."""
    exchange: Path
    """The sound file of the whole exchange, to be written."""
    engine: str
    pilot: str


@dataclass(frozen=True, slots=True)
class PilotResult:
    """What there is afterwards."""

    run: str
    """The run's id in the logbook."""
    logbook: Path
    exchange: Path
    engine: str
    parts: Parts
    scripted: ScriptedRun
    wall_seconds: float


def run_pilot(wanted: PilotRun, tell: Tell) -> PilotResult:
    """Run the check with the scripted pilot; keep the record and the sound of the whole exchange."""
    began = time.perf_counter()
    script = load_script(wanted.script, noises=tuple(Background))
    parts = load_parts(wanted.check) if wanted.check else load_parts(script.check, beside=wanted.script)
    refuse_unknown(script, parts.check)
    recogniser = make_recogniser(wanted.engine, parts.check.pronounce)
    with ExitStack() as stack:
        logbook = stack.enter_context(Logbook.open(wanted.logbook))
        record = stack.enter_context(
            begin_run(
                logbook,
                parts,
                pilot=wanted.pilot,
                started_at=script.start_at or time.time(),
                engine=wanted.engine,
                is_invented=True,
            )
        )
        with studio_of(script) as studio:
            cast = Cast(script, studio, recogniser, ClipFolder(logbook.clips, record.run))
            scripted = run_scripted(parts, cast, record, tell)
        write_sound(wanted.exchange, Sound(np.concatenate(scripted.tape), RATE))
        wall = time.perf_counter() - began
        return PilotResult(record.run, logbook.path, wanted.exchange, recogniser.name, parts, scripted, wall)


def report_exchange(perform: Callable[[Tell], PilotResult], out: TextIO, *, as_json: bool) -> int:
    """Print the exchange as it goes and the result after it, or all of it as JSON; 0 when completed."""
    told: list[Told] = []

    def tell(line: Told) -> None:
        if not told and not as_json:
            print(f"{STANDING_CAUTION}\n", file=out)
        told.append(line)
        if not as_json:
            print(f"{stamp(line.at)}  {line.who:<8} {line.text}", file=out, flush=True)

    result = perform(tell)
    if as_json:
        print(json.dumps(_as_json(result, told), indent=2), file=out)
    else:
        print("\n".join(_closing(result)), file=out)
    return 0 if result.scripted.state is State.COMPLETE else 1


@contextlib.contextmanager
def studio_of(script: PilotScript, worn: Callable[[Sound], Sound] | None = None) -> Iterator[ScriptedStudio]:
    """The sounds of a script, their voices closed after use; `worn` is what prompts are heard through."""
    mouth, voice = make_mouth(prompt_folder())
    mouth.worn = worn
    pilot = make_pilot_voice(script.voice)
    try:
        yield ScriptedStudio(mouth, pilot, script)
    finally:
        voice.close()
        pilot.close()


def stamp(seconds: float) -> str:
    """Minutes and seconds: `03:07.5`."""
    minutes, rest = divmod(seconds, 60)
    return f"{int(minutes):02d}:{rest:04.1f}"


def _closing(result: PilotResult) -> list[str]:
    summary, heard = result.scripted.summary, result.scripted.heard
    spoken = [isinstance(event, Answered) for event in heard if not _is_keyed(event)]
    seconds = (summary.ended_at or 0.0) - (summary.started_at or 0.0)
    return [
        "",
        f"{result.parts.check.title}: {result.scripted.state.value}",
        *finding_lines(result.parts, summary),
        f"  ear      {result.engine}: {sum(spoken)} answers taken, {spoken.count(False)} asked again",
        f"  time     {stamp(seconds)} of check, run in {result.wall_seconds:.1f} s",
        "",
        f"record  {result.run} in {result.logbook}",
        f"sound   {result.exchange}",
    ]


def _is_keyed(event: Answered | Misheard) -> bool:
    return isinstance(event, Answered) and event.channel is Channel.KEYS


def _as_json(result: PilotResult, told: list[Told]) -> dict[str, Any]:
    summary = result.scripted.summary
    return {
        "run": result.run,
        "logbook": str(result.logbook),
        "exchange": str(result.exchange),
        "engine": result.engine,
        "state": result.scripted.state.value,
        "wall_seconds": round(result.wall_seconds, 2),
        "stops": [
            {"item": stop.item, "value": stop.what, "is_remedied": stop.remedied_at is not None}
            for stop in summary.stops
        ],
        "squawks": [{"item": answer.item, "value": value_of(answer)} for answer in summary.squawks],
        "cautions": [{"item": answer.item, "value": value_of(answer)} for answer in summary.cautions],
        "spin_ups": {clock.item: round(clock.seconds, 2) for clock in summary.clocks},
        "ampere_hours": round(summary.ampere_hours, 3),
        "told": [{"at": round(line.at, 2), "who": line.who, "text": line.text} for line in told],
    }
