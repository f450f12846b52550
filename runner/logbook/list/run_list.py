"""Which runs there are: lists over one airplane or all, and how a run is found by what a person types."""

from collections.abc import Sequence

from runner.errors import RecordError
from runner.logbook.record.record_shelf import Shelf
from runner.logbook.record.summary_table import SHOWN_COLUMNS, RunSummary, summary_of

LAST = "last"
"""What may be typed for the newest run."""


def runs(
    shelf: Shelf, *, airplane: str | None = None, pilot: str | None = None, limit: int | None = None
) -> tuple[RunSummary, ...]:
    """Runs, newest first, of all airplanes or of one (by its registration or its file's name), of a pilot."""
    values = [] if airplane is None else list(registrations_of(shelf, airplane))
    wanted = [] if airplane is None else [f"registration IN ({', '.join('?' for _ in values)})"]
    if pilot is not None:
        wanted.append("pilot = ?")
        values.append(pilot)
    where = f"WHERE {' AND '.join(wanted)}" if wanted else ""
    tail = "" if limit is None else f"LIMIT {int(limit)}"
    return _select(shelf, f"{where} ORDER BY started_at DESC, id DESC {tail}", values)


def unfinished(shelf: Shelf) -> tuple[RunSummary, ...]:
    """Runs that neither were completed nor abandoned, newest first."""
    return _select(shelf, "WHERE state = 'open' ORDER BY started_at DESC, id DESC")


def count_of(shelf: Shelf, registration: str) -> tuple[int, int]:
    """How many runs a tail has, and how many of them are unfinished."""
    count, unfinished = shelf.rows(
        "SELECT count(*), coalesce(sum(CASE WHEN state = 'open' THEN 1 ELSE 0 END), 0) FROM run "
        "WHERE registration = ?",
        (registration,),
    )[0]
    return int(count), int(unfinished)


def answered_runs(shelf: Shelf, pilot: str, check: str) -> list[str]:
    """Runs of a check in which this pilot answered an item, the newest first; none that were invented."""
    rows = shelf.rows(
        "SELECT DISTINCT r.id FROM run r JOIN answer a ON a.run = r.number "
        "WHERE r.pilot = ? AND r.check_name = ? AND NOT r.is_invented ORDER BY r.id DESC",
        (pilot, check),
    )
    return [str(run) for (run,) in rows]


def find_run(shelf: Shelf, words: str) -> RunSummary:
    """The run meant by its id, by the start of its id if only one starts so, or by `last`."""
    if words == LAST:
        found = runs(shelf, limit=1)
    else:
        found = _select(shelf, "WHERE id >= ? AND id < ? ORDER BY id LIMIT 3", (words, words + "\U0010ffff"))
    exact = [run for run in found if run.run == words]
    if exact or len(found) == 1:
        return (exact or found)[0]
    if found:
        names = ", ".join(run.run for run in found)
        raise RecordError(f'"{words}" could be any of {names}; write more of it')
    if shelf.rows("SELECT 1 FROM chain WHERE id = ? AND kind = 'run'", (words,)):
        raise RecordError(f"run {words} was set aside; `eyesout import --take-back {words}` puts it back")
    raise RecordError(f'no run "{words}" in {shelf.place}; `eyesout history` lists them')


def registrations_of(shelf: Shelf, airplane: str) -> list[str]:
    """The registrations meant by one, or by an airplane file's name; RecordError when there is none."""
    found = shelf.rows(
        "SELECT registration FROM run WHERE registration = ? "
        "UNION SELECT registration FROM run WHERE airplane = ?",
        (airplane, airplane),
    )
    if not found:
        raise RecordError(f'no runs of "{airplane}" in {shelf.place}; `eyesout history` lists what there is')
    return sorted(row[0] for row in found)


def all_registrations(shelf: Shelf) -> list[str]:
    """Every tail that has runs; RecordError when there are none."""
    found = [str(row[0]) for row in shelf.rows("SELECT DISTINCT registration FROM run ORDER BY registration")]
    if not found:
        raise RecordError(f"no runs in {shelf.place} yet")
    return found


def one_registration(shelf: Shelf, airplane: str) -> str:
    """The one tail meant; RecordError when an airplane file's name means several."""
    found = registrations_of(shelf, airplane)
    if airplane in found or len(found) == 1:
        return airplane if airplane in found else found[0]
    raise RecordError(f'"{airplane}" is several tails: {", ".join(found)}; name one registration')


def _select(shelf: Shelf, tail: str, parameters: Sequence[object] = ()) -> tuple[RunSummary, ...]:
    return tuple(summary_of(row) for row in shelf.rows(f"SELECT {SHOWN_COLUMNS} FROM run {tail}", parameters))  # noqa: S608 - constants of this module
