"""Entries and runs for the logbook's tests; the airplane, its registration and its pilot are invented."""

from collections.abc import Iterator
from pathlib import Path

from runner.core.answer_origin import AnswerOrigin, Reception
from runner.core.record.entry import (
    AnswerRecorded,
    CautionsTaken,
    ClockEnded,
    ClockStarted,
    ConfirmationDropped,
    Entry,
    Reopened,
    RunCompleted,
    RunStarted,
)
from runner.language.catalogue import Outcome
from runner.logbook.record.run_store import Logbook, RunHandle

STARTED_AT = 1_764_062_400.0  # 2025-11-25 09:20 UTC
CHECK_TEXT = "title: Reserve bus, first flight\nairplane: lark  # invented\n"
AIRPLANE_TEXT = "registration: X-LARK  # invented\n"


def new_run(
    logbook: Logbook,
    *,
    started_at: float = STARTED_AT,
    registration: str = "X-LARK",
    pilot: str = "A. Invented",
) -> RunHandle:
    """Begin a run of the invented airplane's check."""
    return logbook.create_run(
        check="lark-reserve",
        check_text=CHECK_TEXT,
        airplane="lark",
        airplane_text=AIRPLANE_TEXT,
        registration=registration,
        pilot=pilot,
        started_at=started_at,
        oat_celsius=4.0,
        series={"left_flag": "left gyro"},
    )


def answer(at: float, item: str, words: str, outcome: Outcome, unit: str = "") -> AnswerRecorded:
    """An answer by voice, two seconds after its challenge."""
    return AnswerRecorded(
        at=at,
        item=item,
        answer=words,
        unit=unit,
        outcome=outcome,
        origin=AnswerOrigin(at - 0.5, 2.0, is_hasty=False, reception=Reception(f"é {words}", 0.97, "voice")),
    )


def whole_run(at: float = STARTED_AT) -> Iterator[Entry]:
    """A short run: a clock, a reading corrected once, a lamp out, the completion call."""
    yield RunStarted(at)
    yield CautionsTaken(at + 5)
    yield answer(at + 10, "selector", "reserve", Outcome.PASS)
    yield ClockStarted(at + 9.5, "left_flag")
    yield answer(at + 14, "volts", "24.6", Outcome.PASS, "volts")
    yield Reopened(at + 16, "volts")
    yield ConfirmationDropped(at + 17, "volts")
    yield answer(at + 20, "volts", "21.40", Outcome.SQUAWK, "volts")
    yield answer(at + 25, "lamps", "left out", Outcome.CAUTION)
    words = "left gyro flag pulled"
    yield ClockEnded(
        at + 40,
        "left_flag",
        30.5,
        is_pulled=True,
        outcome=Outcome.PASS,
        reception=Reception(words, 0.9, "voice"),
    )
    yield answer(at + 60, "complete", "complete", Outcome.PASS)
    yield RunCompleted(at + 60)


def write_run(folder: Path, *, started_at: float = STARTED_AT) -> str:
    """A whole run in the logbook of a folder; gives its id."""
    with Logbook.open(folder) as logbook, new_run(logbook, started_at=started_at) as handle:
        for entry in whole_run(started_at):
            handle.append(entry)
        return handle.run
