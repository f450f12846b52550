"""Walks the chain of every run and says what is whole: the record, its files' texts, the summaries."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from runner.errors import RecordError
from runner.logbook.header import KIND, RunHeader, read_header
from runner.logbook.record import Chain, chains, entries_in, read_whole, snapshot_text
from runner.logbook.recover import salvage
from runner.logbook.shelf import Shelf
from runner.logbook.standing import Standing, standing
from runner.logbook.store import FILE, Logbook
from runner.logbook.summary import answer_row, answer_rows, run_summary, summarised


@dataclass(frozen=True, slots=True)
class Verdict:
    """What was found about one chain."""

    chain: str
    lines: int
    """How many lines are whole, header included."""
    digest: str
    """The hash of the last whole line; compare it with a printed report."""
    faults: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Audit:
    """What was found about a whole logbook."""

    verdicts: tuple[Verdict, ...]
    faults: tuple[str, ...]
    """What is wrong with the file as a whole."""

    @property
    def is_whole(self) -> bool:
        """True when nothing at all was found."""
        return not self.faults and not any(verdict.faults for verdict in self.verdicts)


def audit_folder(folder: Path) -> Audit:
    """Verify the logbook of a folder; a damaged file is read as far as it goes."""
    if not (folder / FILE).exists():
        raise RecordError(f"no logbook in {folder}; name its folder with --logbook")
    try:
        with Logbook.open(folder) as logbook:
            found = logbook.rows("PRAGMA quick_check(5)")
            faults = tuple(str(row[0]) for row in found if row[0] != "ok")
            return Audit(tuple(audit(logbook)), (*logbook.notices, *faults))
    except RecordError as error:
        return _audit_damaged(folder, error)


def audit(shelf: Shelf) -> Iterator[Verdict]:
    """Verify every chain of a shelf, runs first."""
    for kind in (KIND, "maintenance"):
        for chain in chains(shelf, kind):
            yield _verdict(shelf, chain)


def _verdict(shelf: Shelf, chain: Chain) -> Verdict:
    reading = read_whole(shelf, chain)
    faults = [] if reading.fault is None else [reading.fault]
    if chain.kind == KIND and reading.lines:
        try:
            header = read_header(reading.lines[0].body)
            faults += _lost_texts(shelf, header)
            if reading.fault is None:
                faults += _summary_faults(shelf, chain.number, header, standing(entries_in(reading)))
        except RecordError as error:
            faults.append(str(error))
    digest = reading.lines[-1].digest if reading.lines else ""
    return Verdict(chain.id, len(reading.lines), digest, tuple(faults))


def _lost_texts(shelf: Shelf, header: RunHeader) -> Iterator[str]:
    for sha256 in (header.check_sha256, header.airplane_sha256):
        try:
            snapshot_text(shelf, sha256)
        except RecordError as error:
            yield str(error)


def _summary_faults(shelf: Shelf, number: int, header: RunHeader, truth: Standing) -> Iterator[str]:
    if run_summary(shelf, number) != summarised(header, truth):
        yield "the summary of the run disagrees with its record; lists may be wrong, the record stands"
    rows = [answer_row(number, header, truth.answers[item]) for item in sorted(truth.answers)]
    if answer_rows(shelf, number) != rows:
        yield "the summary of its answers disagrees with its record; series may be wrong, the record stands"


def _audit_damaged(folder: Path, error: RecordError) -> Audit:
    found = salvage(folder)
    verdicts = tuple(
        Verdict(
            one.chain,
            len(one.lines),
            one.lines[-1].digest if one.lines else "",
            () if one.fault is None else (one.fault,),
        )
        for one in found.chains
    )
    return Audit(verdicts, (str(error),))
