"""What the links say of a logbook's records: which vanished, shrank, were rewritten or slipped in."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from runner.errors import RecordError
from runner.logbook.proof.link import KIND, OLDER, SIGNED, RecordLink, older_digest
from runner.logbook.proof.signature import is_signed, read_public
from runner.logbook.record.chain import ChainRead
from runner.logbook.record.record import Chain, read_whole
from runner.logbook.record.record_shelf import Shelf


@dataclass(frozen=True, slots=True)
class Links:
    """The links of a logbook."""

    chain: Chain
    reading: ChainRead
    older: int
    """Records from before the links began."""

    @property
    def number(self) -> int:
        """Of the last whole link."""
        return len(self.reading.lines) - 1

    @property
    def digest(self) -> str:
        """The hash of the last whole link: what a printed report keeps outside."""
        return self.reading.lines[-1].digest if self.reading.lines else ""

    def found(self) -> Iterator[RecordLink]:
        """Every link, oldest first."""
        for line in self.reading.lines[1:]:
            link = RecordLink.read(line)
            if link is not None:
                yield link


def read_links(shelf: Shelf, chains: Mapping[str, Chain]) -> Links | None:
    """The links of a shelf; None when it has none: it is older than links, or a school's."""
    for chain in chains.values():
        if chain.kind == KIND:
            reading = read_whole(shelf, chain)
            older = reading.lines[0].body.get("older") if reading.lines else 0
            return Links(chain, reading, older if type(older) is int else 0)
    return None


def link_faults(shelf: Shelf, links: Links, chains: Mapping[str, Chain]) -> Iterator[tuple[str, str]]:
    """(record, what is wrong with it by the links); the record is the links' own where they are broken."""
    if links.reading.fault is not None:
        yield links.chain.id, f"the links are broken: {links.reading.fault}"
        return
    first = links.reading.lines[0]
    if (first.chain, first.body.get("kind")) != (links.chain.id, KIND):
        yield links.chain.id, f"the links are those of {first.chain}; they were renamed"
    yield from _older_faults(shelf, links)
    found = list(links.found())
    last = {link.chain: link for link in found}
    for link in found:
        chain = chains.get(link.chain)
        if chain is not None and (chain.length, chain.digest) != (link.length, link.digest):
            yield from ((link.chain, fault) for fault in _difference(shelf, chain, link))
    yield from ((name, fault) for name, link in last.items() for fault in _present(chains.get(name), link))
    for name, chain in chains.items():
        if chain.number > links.chain.number and name not in last:
            yield name, "no link names it: it was put in, or renamed, by something else than eyesout"


def _present(chain: Chain | None, link: RecordLink) -> Iterator[str]:
    if chain is None:
        yield f"the record is gone; link {link.number} says that it had {link.length} lines"
    elif chain.kind != link.of:
        yield f"it is kept as {chain.kind!r}, but was linked as {link.of!r}"


def _difference(shelf: Shelf, chain: Chain, link: RecordLink) -> Iterator[str]:
    rows = shelf.rows(
        "SELECT digest FROM line WHERE chain = ? AND sequence = ?", (chain.number, link.length - 1)
    )
    if not rows:
        yield f"its end was cut: link {link.number} says that it had {link.length} lines"
    elif rows[0][0] != link.digest:
        yield f"it was rewritten: its line {link.length - 1} is not the one of link {link.number}"
    elif not isinstance(chain.length, int) or chain.length < link.length:
        yield f"its end was cut: link {link.number} says that it had {link.length} lines"


def _older_faults(shelf: Shelf, links: Links) -> Iterator[tuple[str, str]]:
    kept = shelf.rows(OLDER, (links.chain.number,))
    if older_digest(kept) != links.reading.lines[0].body.get("older_digest"):
        fault = (
            f"of the records from before the links began ({links.older} then, {len(kept)} now) one is gone, "
            "new, renamed, or has another header"
        )
        yield links.chain.id, fault


def signature_faults(links: Links | None, public: str | None) -> Iterator[str]:
    """Signatures that are none; with a public key, also whatever it has not signed."""
    lines = () if links is None else links.reading.lines
    wanted = None if public is None else read_public(public)
    covered = 0
    for line in lines[1:]:
        if line.body.get("kind") != SIGNED:
            continue
        key = _public_of(line.body.get("key"))
        if key is None or (wanted is not None and key != wanted):
            continue
        if not is_signed(key, str(line.body.get("signature")), line.previous):
            yield f"link {line.sequence}: the signature does not fit; what it signed was changed"
        elif wanted is not None:
            covered = line.sequence
    if wanted is not None and covered < len(lines) - 1:
        yield f"links {covered + 1} to {len(lines) - 1} are not signed by this key"
    if wanted is not None and not covered:
        yield "nothing in this logbook is signed by this key"


def _public_of(words: object) -> bytes | None:
    try:
        return read_public(str(words))
    except RecordError:
        return None
