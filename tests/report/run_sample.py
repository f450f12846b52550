"""Invented runs of the invented Merlow for the reports: a history, and one run with everything in it."""

import io
import wave
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta, timezone
from functools import partial
from pathlib import Path

from runner.checklist.format.check import Check, Item
from runner.checklist.kind.reading import Reading
from runner.core.answer_origin import AnswerOrigin, Reception
from runner.core.record.entry import (
    AnswerRecorded,
    Cause,
    CautionsTaken,
    ClockAdvised,
    ClockEnded,
    ClockLimitPassed,
    ClockStarted,
    DeclaredUnable,
    Entry,
    Held,
    InputChanged,
    NoteRecorded,
    NoteStarted,
    PutOff,
    Released,
    Reopened,
    RunCompleted,
    RunStarted,
)
from runner.language.catalogue import Outcome
from runner.logbook.carry.run_export import KeptFiles
from runner.logbook.invented.synthetic import InventedAirplane, Recipe, Story, write_history
from runner.logbook.record.clip_file import keep_clip
from runner.logbook.record.run_store import Logbook
from runner.logbook.squawk.maintenance_record import Noted, Serviced, file_record
from runner.report.fleet.airplane_report import FleetReport, fleet_report
from runner.report.origin import Maker
from runner.report.run.run_report import Basis, RunReport, run_report
from runner.session.parts import Parts, load_parts, recorded_parts

CHECK = "merlow-reserve"
STARTED_AT = 1_764_062_400.0  # 2025-11-25 09:20 UTC
WEEK = 7 * 86_400.0
PILOT = "Ā. Invented <b>&"
"""A name with a letter beyond Latin-1, and with what must never become markup."""
MAKER = Maker("eyesout 9.9.9", STARTED_AT + 3600, timezone(timedelta(hours=1)))


def sound(seconds: float = 0.5) -> bytes:
    """A WAV file of silence."""
    kept = io.BytesIO()
    with wave.open(kept, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(16_000)
        file.writeframes(bytes(2 * int(16_000 * seconds)))
    return kept.getvalue()


def basis_of(logbook: Logbook, run: str) -> Basis:
    """The check and the airplane of a run in the record."""
    parts = recorded_parts(logbook, run)
    return Basis(parts.check, parts.airplane, parts.plan)


def write_past(logbook: Logbook, runs: int, registration: str = "QQ-ML2", story: Story | None = None) -> None:
    """Invented runs up to a week before `STARTED_AT`, a week apart."""
    parts = load_parts(CHECK)
    airplane = InventedAirplane(parts.check.airplane, registration, parts.check_text, parts.airplane_text)
    recipe = Recipe(story or Story.FAILING_GYRO, 3, runs=runs, started_at=STARTED_AT - runs * WEEK)
    write_history(logbook, parts.check, airplane, recipe)


def write_busy_run(logbook: Logbook, started_at: float = STARTED_AT, stop_after: str = "") -> str:
    """One run with corrections, a put-off item, keys, a hold, notes, cautions and squawks; gives its id.

    It stops half-way after the answer of the item `stop_after`, if there is one.
    """
    parts = load_parts(CHECK)
    clip = keep_clip(logbook.clips, sound())
    with logbook.create_run(
        check=parts.check.name,
        check_text=parts.check_text,
        airplane=parts.check.airplane,
        airplane_text=parts.airplane_text,
        registration=parts.registration,
        pilot=PILOT,
        started_at=started_at,
        oat_celsius=-3.5,
        series=parts.series,
        made_with="eyesout 9.9.9, ear builtin, network 0123456789ab",
    ) as handle:
        for entry in busy_run(parts, clip, started_at):
            handle.append(entry)
            if stop_after and getattr(entry, "item", "") == stop_after:
                return handle.run
    run = handle.run
    work = Serviced(STARTED_AT - 40 * WEEK, "C. Invented", "battery replaced")
    file_record(logbook, parts.registration, work)
    file_record(logbook, run, Noted(STARTED_AT + 900, "B. Invented", "gear lamps", "bulb is on order", clip))
    return run


def busy_run(parts: Parts, clip: str, at: float = STARTED_AT) -> Iterator[Entry]:
    """Its entries: nine seconds an item, the odd items as `_odd` has them, the rest answered as expected."""
    started = at
    yield RunStarted(at)
    yield CautionsTaken(at + 14)
    at += 20
    for item in _asked(parts.check):
        if item.restores:
            yield answered(at - 4, parts.check.item("fire warning"))
            yield from _clock_ends(started)
        odd = _odd(item, at, clip)
        yield from odd or (answered(at, item),)
        at += 9
    yield RunCompleted(at - 9)


def _asked(check: Check) -> Iterator[Item]:
    clocks = {item.name for item, _ in check.clocks()}
    return (item for item in check.items if item.name not in clocks and item.name != "old second radio")


def answered(at: float, item: Item, words: str = "", outcome: Outcome = Outcome.PASS) -> AnswerRecorded:
    """An answer by voice: the first response, or the low end of the band, unless said otherwise."""
    is_reading = isinstance(item.body, Reading)
    low = str(item.body.pass_band.low) if isinstance(item.body, Reading) else ""
    label = words or low or item.responses[0].label
    is_hasty = item.name == "fan speed"
    received = Reception(label, 0.97, "keys" if item.name == "pitot heat off" else "voice")
    return AnswerRecorded(
        at=at,
        item=item.name,
        answer=label,
        unit="volts" if is_reading else "",
        outcome=outcome,
        origin=AnswerOrigin(at - 0.5, 0.4 if is_hasty else 2.0, is_hasty, received),
    )


def _odd(item: Item, at: float, clip: str) -> tuple[Entry, ...]:
    """What is special about an item of the busy run; nothing for most."""
    gyros = ("left attitude", "left compass")
    odd: dict[str, tuple[Entry, ...]] = {
        "reserve selected": (answered(at, item), *(ClockStarted(at - 0.5, gyro) for gyro in gyros)),
        "volts on reserve": (answered(at, item, "22.8", Outcome.CAUTION),),
        "gear lamps": (
            answered(at, item, "three green"),
            Reopened(at + 1, item.name),
            answered(at + 4, item, "nose out", Outcome.SQUAWK),
        ),
        "fire warning": (PutOff(at, item.name),),
        "left side tone": (
            NoteStarted(at - 3, item.name),
            NoteRecorded(at - 1, item.name, clip, 4.2),
            answered(at, item),
        ),
        "navigation receiver": (Held(at - 4), Released(at - 2), answered(at, item)),
        "right attitude": (DeclaredUnable(at, item.name),),
        "pitot heat off": (InputChanged(at - 3, "keys", Cause.ROOM_LOUD), answered(at, item)),
    }
    return odd.get(item.name, ())


def _clock_ends(begun: float) -> Iterator[Entry]:
    """One gyro in good time; the other past its limit, given up with the flag still in view."""
    started = begun + 20 + 3 * 9 - 0.5
    yield clock_ended(started + 44.2, "left attitude", 44.2, Outcome.PASS)
    yield ClockAdvised(started + 60, "left compass")
    yield ClockLimitPassed(started + 120, "left compass")
    yield clock_ended(started + 121, "left compass", 121.0, Outcome.SQUAWK)


def clock_ended(at: float, item: str, seconds: float, outcome: Outcome) -> ClockEnded:
    """The flag pulled, or stuck where that is a squawk."""
    is_pulled = outcome is not Outcome.SQUAWK
    return ClockEnded(at, item, seconds, is_pulled, outcome, Reception("flag", 0.9, "voice"))


@dataclass(frozen=True, slots=True)
class Reports:
    """Both kinds of report, out of one logbook."""

    run: RunReport
    airplane: FleetReport


def reports(folder: Path, past: int = 30) -> Reports:
    """The reports of the busy run and of its airplane, after a past of so many runs."""
    with Logbook.open(folder) as logbook:
        write_past(logbook, past)
        run = write_busy_run(logbook)
        kept, basis = KeptFiles(logbook, logbook.clips), partial(basis_of, logbook)
        return Reports(
            run_report(logbook, kept, run, basis(run), MAKER),
            fleet_report(logbook, ("QQ-ML2",), basis, MAKER),
        )
