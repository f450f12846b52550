"""Where a report comes from: by what and when it was made, and the proof of the record behind it."""

from dataclasses import dataclass
from datetime import tzinfo
from typing import Final

from runner.logbook.proof.logbook_witness import Witness

NOTHING: Final = Witness()


@dataclass(frozen=True, slots=True)
class Maker:
    """Who made the paper, when, and in which local time it speaks."""

    tool: str
    """The tool with its version: `eyesout 0.1.0`."""
    at: float
    """Seconds since the epoch."""
    zone: tzinfo | None = None
    """Local time beside UTC; None for that of this computer."""
    witness: Witness = NOTHING
    """Where the logbook's links stood, and whose key signs them."""


@dataclass(frozen=True, slots=True)
class RecordProof:
    """By what a record is known to be the one that was made."""

    lines: int
    """Whole lines of the record, its header included."""
    sha256: str
    """Hash of the last whole line, which carries those of all before it; empty without any line."""
    fault: str | None
    """Why the record is not whole; None when it is."""
