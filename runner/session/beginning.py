"""A run's beginning: its record opened in the logbook, with the exact texts that it is made from."""

from runner.logbook.record.run_store import Logbook, RunHandle
from runner.session.engine import made_with
from runner.session.parts import Parts


def begin_run(
    logbook: Logbook,
    parts: Parts,
    *,
    pilot: str,
    started_at: float,
    engine: str | None,
    oat_celsius: float | None = None,
    is_invented: bool = False,
) -> RunHandle:
    """Open a new run for writing; `engine` is None when keys answer, `started_at` seconds since the epoch."""
    return logbook.create_run(
        check=parts.check.name,
        check_text=parts.check_text,
        airplane="" if parts.airplane is None else parts.airplane.name,
        airplane_text=parts.airplane_text,
        registration=parts.registration,
        pilot=pilot,
        started_at=started_at,
        oat_celsius=oat_celsius,
        series=parts.series,
        is_invented=is_invented,
        made_with=made_with(engine),
    )
