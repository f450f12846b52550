"""Which shelf a person means: a folder of this computer, or the address of a school's shared records."""

from pathlib import Path

from runner.errors import RecordError, UsageError
from runner.logbook.carry.run_export import Attachments, KeptFiles
from runner.logbook.record.run_store import FILE, Logbook
from runner.logbook.school.address import SCHEMES, is_address, masked
from runner.logbook.school.school import School


def is_shared(place: str) -> bool:
    """True for the address of a school's records; UsageError for any other address."""
    if is_address(place) and not place.startswith(SCHEMES):
        raise UsageError(
            f"{masked(place)} is neither a folder nor an address of a PostgreSQL database; "
            "write postgresql://USER@HOST/DATABASE"
        )
    return place.startswith(SCHEMES)


def open_shelf(place: str) -> Logbook | School:
    """Open what is there, for reading; RecordError when there is no logbook yet."""
    return School.open(place) if is_shared(place) else open_own(place)


def open_own(place: str, *, may_make: bool = False) -> Logbook:
    """Open a logbook of this computer, for writing; RecordError when there is none and none may be made."""
    if is_shared(place):
        raise UsageError("a school's records grow by `eyesout sync` only; name a folder with --logbook")
    folder = Path(place)
    if not may_make and not (folder / FILE).exists():
        raise RecordError(f"no logbook in {folder}; `eyesout run` begins one, --logbook names another folder")
    return Logbook.open(folder)


def attachments_of(shelf: Logbook | School) -> Attachments:
    """Where the shelf's texts and clips are."""
    return shelf if isinstance(shelf, School) else KeptFiles(shelf, shelf.clips)
