"""The header of a run: what was run, on which airplane, by whom, from which exact files."""

import re
import secrets
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, field
from datetime import UTC, datetime
from typing import Any, Final

from runner.errors import RecordError

KIND: Final = "run"
NO_AIRPLANE: Final = "no airplane"
"""What stands for the registration in a run of a check that is for any airplane; lists show it as it is."""
_SUFFIX_LETTERS: Final = "23456789abcdefghjkmnpqrstvwxyz"
"""No letter or digit that can be taken for another (0/o, 1/l/i, u/v)."""

_ODD: Final = re.compile(r"[^A-Za-z0-9._-]+")
"""What an id may not hold: it is typed, and it names a lock file."""

_TEXT: Final = (str,)
_NUMBER: Final = (float, int)
_TYPES: Final[Mapping[str, tuple[type, ...]]] = {
    "run": _TEXT,
    "started_at": _NUMBER,
    "check": _TEXT,
    "airplane": _TEXT,
    "registration": _TEXT,
    "pilot": _TEXT,
    "oat_celsius": (*_NUMBER, type(None)),
    "check_sha256": _TEXT,
    "airplane_sha256": _TEXT,
    "series": (dict,),
    "is_invented": (bool,),
    "made_with": _TEXT,
}

_LATER: Final[Mapping[str, Any]] = {"made_with": ""}
"""What older records do not have, and what is taken to stand there."""


_FIRST_MOMENT: Final = -2_208_988_800.0
_LAST_MOMENT: Final = 253_370_764_800.0
"""1900 and 9999, UTC: what lies beyond cannot be written as a date."""


def is_moment(value: object) -> bool:
    """Whether a value can be a time in seconds since the epoch that every list can print."""
    return type(value) in _NUMBER and _FIRST_MOMENT <= value <= _LAST_MOMENT  # type: ignore[operator] # a number by then


@dataclass(frozen=True, slots=True)
class RunHeader:
    """Line 0 of a run's chain."""

    run: str
    """The run's id: UTC date and time, airplane, a short random suffix; sorts by time."""
    started_at: float
    """Seconds since the epoch."""
    check: str
    """Name of the check: the file's stem."""
    airplane: str
    """Name of the airplane: the file's stem; empty where the check is for any."""
    registration: str
    """The tail's registration, or NO_AIRPLANE."""
    pilot: str
    oat_celsius: float | None
    """Outside air temperature, degrees Celsius; None when it was not given."""
    check_sha256: str
    """Hash of the check file's exact text, which the logbook keeps."""
    airplane_sha256: str
    """Hash of the airplane file's exact text, which the logbook keeps; of no text where there is none."""
    series: Mapping[str, str] = field(default_factory=dict)
    """Item to the series its value belongs to, such as a gyro's name; others are their own series."""
    is_invented: bool = False
    """Made by the generator of histories or by a demo, not on an airplane."""
    made_with: str = ""
    """The tool and the ear that began the run, with their versions; empty in older records."""


def run_id(started_at: float, about: str, choose: Callable[[str], str] = secrets.choice) -> str:
    """A new id such as `2026-11-25-0920-lark-7k3f`; the time is UTC, `choose` draws the suffix's letters."""
    stamp = datetime.fromtimestamp(started_at, UTC).strftime("%Y-%m-%d-%H%M")
    suffix = "".join(choose(_SUFFIX_LETTERS) for _ in range(4))
    return f"{stamp}-{_ODD.sub('-', about)}-{suffix}"


def header_body(header: RunHeader) -> Mapping[str, Any]:
    """The header as JSON."""
    return {"kind": KIND} | asdict(header)


def read_header(body: Mapping[str, Any]) -> RunHeader:
    """The header out of its JSON; RecordError when it is none."""
    given = {**_LATER, **{key: value for key, value in body.items() if key != "kind"}}
    odd = given.keys() ^ _TYPES.keys()
    if body.get("kind") != KIND or odd:
        raise RecordError(
            f"not the header of a run: fields missing or unknown: {', '.join(sorted(odd)) or KIND}"
        )
    wrong = [key for key, types in _TYPES.items() if type(given[key]) not in types]
    if wrong or not all(isinstance(name, str) for name in given["series"].values()):
        raise RecordError(f"not the header of a run: {(wrong or ['series'])[0]} has the wrong type")
    if not is_moment(given["started_at"]):
        raise RecordError(f"not the header of a run: {given['started_at']!r} is no time")
    return RunHeader(**given)
