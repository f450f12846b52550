"""Every error that a user can meet, in one tree; `cli.py` prints one line and exits with its code.

EyesoutError
├── UsageError    2  the command's arguments do not fit together
├── FileError     2  an airplane, check or pilot file is wrong at a line and column
│   └── MistakesError   in several places
├── ModelError    3  a speech model is missing, damaged or unfit
├── AudioError    4  a sound library or device is missing
├── VoiceError    5  a prompt could not be spoken
├── RecordError   6  the logbook is locked, damaged or cannot be written
└── OutputError   7  standard output is closed or cannot be written
"""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar


class EyesoutError(Exception):
    """Something the user can act on; the message says what happened and what to do."""

    exit_code: ClassVar[int] = 1


class UsageError(EyesoutError):
    """The command's arguments do not fit together."""

    exit_code = 2


@dataclass(frozen=True, slots=True)
class Place:
    """A position in a text file; line and column count from 1."""

    path: Path
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.path}:{self.line}:{self.column}"


class FileError(EyesoutError):
    """A data file is wrong at a known place: `path:line:column: what; what to write instead`."""

    exit_code = 2

    def __init__(self, place: Place, message: str) -> None:
        super().__init__(f"{place}: {message}")
        self.place = place
        self.message = message


class MistakesError(FileError):
    """Several mistakes of one file, in the order in which they stand there; each is a line of the message."""

    def __init__(self, errors: Sequence[FileError]) -> None:
        super().__init__(errors[0].place, errors[0].message)
        self.args = ("\n".join(map(str, errors)),)
        self.errors = tuple(errors)


class ModelError(EyesoutError):
    """A speech model is missing, damaged or unfit for use."""

    exit_code = 3


class AudioError(EyesoutError):
    """A sound library or a sound device is missing or was lost."""

    exit_code = 4


class VoiceError(EyesoutError):
    """A prompt could not be turned into speech."""

    exit_code = 5


class RecordError(EyesoutError):
    """The logbook is in use elsewhere, damaged, or cannot be written."""

    exit_code = 6


class OutputError(EyesoutError):
    """Standard output is closed, or cannot be written."""

    exit_code = 7
