"""Whether a run from elsewhere can be read by all that reads runs here, asked before it is taken in."""

from collections.abc import Sequence

from runner.core.record.fold import fold
from runner.core.record.run_summary import summarise
from runner.errors import FileError, RecordError
from runner.logbook.record.chain import ChainLine
from runner.logbook.record.header import read_header
from runner.logbook.record.record import entry_in
from runner.logbook.record.record_shelf import Shelf
from runner.report.run.run_incident import incidents_of
from runner.report.run.run_item import run_items, spin_up_times
from runner.session.parts import parts_of


def refuse_unfit(shelf: Shelf, lines: Sequence[ChainLine]) -> None:
    """RecordError when a run does not fit the check that it says it is a run of.

    A check that this eyesout cannot read, or that was lost, says nothing: `show` and `history` need none.
    """
    header, entries = read_header(lines[0].body), tuple(map(entry_in, lines[1:]))
    try:
        parts = parts_of(shelf, header)
    except (FileError, RecordError):
        return
    try:
        progress = fold(parts.plan, entries)
        summarise(progress, entries[-1].at if entries else None)
        tuple(spin_up_times(progress))
        run_items(progress)
        incidents_of(entries)
    except (KeyError, ValueError, TypeError, ArithmeticError, LookupError) as error:
        raise RecordError(f"{header.run} does not fit its check {header.check}: {error!r}"[:300]) from None
