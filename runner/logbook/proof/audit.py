"""Walks every record of a logbook, in one state of it, and says what is whole; nothing is changed."""

import sqlite3
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from runner.errors import RecordError
from runner.logbook.carry.set_aside import aside_in
from runner.logbook.proof.chain_verdict import ChainVerdict, look_closely
from runner.logbook.proof.link import KIND as LINKS
from runner.logbook.proof.link_audit import Links, link_faults, read_links, signature_faults
from runner.logbook.proof.logbook_witness import Witness, witness_faults
from runner.logbook.proof.recover import salvage
from runner.logbook.record.header import KIND
from runner.logbook.record.record import Chain, all_chains
from runner.logbook.record.record_shelf import Shelf
from runner.logbook.record.run_store import FILE
from runner.logbook.record.still import ChangedMeanwhileError, held_still, require_file
from runner.logbook.record.writeahead import WriteAhead
from runner.logbook.school.school_share import workers_for
from runner.logbook.squawk.maintenance_record import KIND as MAINTENANCE

TRIES: Final = 5
"""How often a logbook is read anew because someone began to write it."""


@dataclass(frozen=True, slots=True)
class Audit:
    """What was found about a whole logbook."""

    verdicts: tuple[ChainVerdict, ...]
    faults: tuple[str, ...]
    """What is wrong with the file as a whole."""
    remarks: tuple[str, ...] = ()
    """What cannot be told about it, and why; no fault."""

    @property
    def is_whole(self) -> bool:
        """True when nothing at all was found."""
        return not self.faults and not any(verdict.faults for verdict in self.verdicts)


def audit_folder(folder: Path, against: Witness | None = None) -> Audit:
    """Verify the logbook of a folder, a damaged one as far as it goes. RecordError when there is none."""
    require_file(folder / FILE)
    for _ in range(TRIES):
        with suppress(ChangedMeanwhileError):
            return _audit_once(folder, against)
    raise RecordError(f"logbook {folder}: it is being written over and over; try again in a moment")


def _audit_once(folder: Path, against: Witness | None) -> Audit:
    pending = WriteAhead.read(folder / FILE)
    try:
        with workers_for(folder / FILE) as workers, held_still(folder) as still:
            workers.begin(still)
            faults = [str(row[0]) for row in still.rows("PRAGMA quick_check(5)") if row[0] != "ok"]
            lost = pending.lost(still)
            found = audit(still, against, lambda: workers.doubtful(still))
    except (RecordError, sqlite3.Error) as error:
        return _audit_damaged(folder, error)
    faults += pending.lost_for_good(lost)
    return replace(found, faults=(*faults, *found.faults))


def audit(
    shelf: Shelf, against: Witness | None = None, doubtful: Callable[[], Collection[int]] | None = None
) -> Audit:
    """Verify every record of a shelf.

    `doubtful` tells which runs are to be looked at closely (None: all); it is asked last, since others may
    find that out meanwhile.
    """
    listed = all_chains(shelf)
    chains = {str(chain.id): chain for chain in listed}
    links = read_links(shelf, chains)
    aside = aside_in(shelf)
    faults = [*_orphans(shelf), *_listed_though_aside(shelf, aside), *_twice(listed)]
    linked = [] if links is None else list(link_faults(shelf, links, chains))
    closely = None if doubtful is None else set(doubtful())
    verdicts = {
        str(chain.id): _verdict(shelf, chain, closely, is_aside=chain.id in aside)
        for chain in listed
        if chain.kind != LINKS
    }
    for name, fault in linked:
        known = verdicts.get(name, ChainVerdict(name, 0, "", ()))
        verdicts[name] = replace(known, faults=(*known.faults, fault))
    faults += signature_faults(links, None if against is None else against.public)
    faults += [] if against is None else witness_faults(links, against)
    return Audit(tuple(verdicts.values()), tuple(faults), tuple(_remarks(links, listed)))


def _verdict(shelf: Shelf, chain: Chain, closely: set[int] | None, *, is_aside: bool) -> ChainVerdict:
    if closely is None or chain.kind != KIND or chain.number in closely:
        return look_closely(shelf, chain, is_aside=is_aside)
    return ChainVerdict(chain.id, chain.length, chain.digest, ())


def _remarks(links: Links | None, listed: Sequence[Chain]) -> Iterator[str]:
    if links is None and listed:
        yield (
            "these records are not linked to each other (an older logbook, or a school's): "
            "one that vanished as a whole does not show; a logbook links them from its next run on"
        )
    elif links is not None and links.older:
        yield (
            f"{links.older} records are older than the links between records: if one is gone it shows, "
            "but not which, nor a cut or rewritten end of it"
        )


def _twice(listed: Sequence[Chain]) -> Iterator[str]:
    known = (KIND, MAINTENANCE, LINKS)
    for chain in listed:
        if chain.kind not in known:
            yield f"{chain.id} is kept as {chain.kind!r}, which is no kind of record"
    if sum(chain.kind == LINKS for chain in listed) > 1:
        yield "there are several chains of links; only one is this logbook's"


def _orphans(shelf: Shelf) -> Iterator[str]:
    for table, column in (("run", "number"), ("answer", "run")):
        rows = shelf.rows(
            f"SELECT count(*) FROM (SELECT DISTINCT {column} AS n FROM {table}) AS known "  # noqa: S608 - constants
            "LEFT JOIN chain c ON c.number = known.n AND c.kind = ? WHERE c.number IS NULL",
            (KIND,),
        )
        if rows[0][0]:
            yield f"summaries of {rows[0][0]} runs have no record (table {table}); lists may be wrong"


def _listed_though_aside(shelf: Shelf, aside: Collection[str]) -> Iterator[str]:
    for name in aside:
        if shelf.rows("SELECT 1 FROM run WHERE id = ?", (name,)):
            yield f"{name} was set aside, but lists still have it"


def _audit_damaged(folder: Path, error: Exception) -> Audit:
    found = salvage(folder)
    verdicts = tuple(
        ChainVerdict(
            one.chain,
            len(one.lines),
            one.lines[-1].digest if one.lines else "",
            () if one.fault is None else (one.fault,),
        )
        for one in found.chains
    )
    return Audit(verdicts, (str(error),))
