"""`eyesout`: picks the command, prints one line and gives an exit code for every error."""

from __future__ import annotations

import argparse
import contextlib
import importlib
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, NoReturn, Protocol, TextIO, cast

from runner.errors import EyesoutError, MistakesError, OutputError, UsageError
from runner.language.catalogue import STANDING_CAUTION
from runner.logbook.school.address import masked
from runner.terminal import leave_output, settle_streams, terminal_width
from runner.visible import VisibleText, visible


class CommandPort(Protocol):
    """What a command's module offers."""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Describe the command's arguments."""
        ...

    def run(self, arguments: argparse.Namespace, out: TextIO) -> int:
        """Do it; EyesoutError for anything that the user can act on."""
        ...


class Parser(argparse.ArgumentParser):
    """Arguments that do not fit are an error like any other: one line, without the whole usage."""

    def error(self, message: str) -> NoReturn:
        """Raise UsageError."""
        raise UsageError(f"{message}; see `{self.prog} --help`")


@dataclass(frozen=True, slots=True)
class Listing:
    """One line of `eyesout --help`; the module is imported only when its command is typed."""

    module: str
    summary: str
    example: str


EXIT_BROKEN_PIPE: Final = 141
"""128 and SIGPIPE, as a shell tells it: whoever read the output has closed it before its end."""

COMMANDS: Final[dict[str, Listing]] = {
    "run": Listing("runner.command.run", "run a check by voice or by keys", "eyesout run merlow-reserve"),
    "drill": Listing(
        "runner.command.drill",
        "a rehearsal against a played airplane that breaks, and its debrief",
        "eyesout drill merlow-reserve --level 2",
    ),
    "recite": Listing(
        "runner.command.recite",
        "a check's flow from memory, held against every order that it allows",
        "eyesout recite merlow-reserve",
    ),
    "quiz": Listing(
        "runner.command.quiz",
        "questions on an airplane: what lives where, what dies and why, which seat, how long",
        "eyesout quiz merlow-ml2 --count 5",
    ),
    "due": Listing(
        "runner.command.due",
        "what to practise next, by what is forgotten and by an instructor's syllabus",
        "eyesout due --by NAME",
    ),
    "demo": Listing(
        "runner.command.demo", "a whole spoken check with a scripted pilot, no microphone", "eyesout demo"
    ),
    "history": Listing("runner.command.history", "the runs and their results", "eyesout history merlow-ml2"),
    "show": Listing("runner.command.show", "one run from its record", "eyesout show last"),
    "trend": Listing(
        "runner.command.trend",
        "what gyros, volts and response times do over the runs, and when a limit is near",
        "eyesout trend merlow-ml2 --graph",
    ),
    "report": Listing(
        "runner.command.report",
        "a paper of a run or an airplane: HTML, one-page PDF, CSV, JSON",
        "eyesout report last --pdf",
    ),
    "squawk": Listing(
        "runner.command.squawk", "list, note, defer and close squawks", "eyesout squawk list --all"
    ),
    "maintenance": Listing(
        "runner.command.maintenance",
        "work done on an airplane: trends start anew from there",
        'eyesout maintenance merlow-ml2 --done "battery replaced" --by NAME',
    ),
    "verify": Listing("runner.command.verify", "say which records are whole", "eyesout verify"),
    "export": Listing("runner.command.export", "records as JSON Lines", "eyesout export last --to run.jsonl"),
    "import": Listing("runner.command.intake", "take exported records in", "eyesout import run.jsonl"),
    "sync": Listing(
        "runner.command.sync",
        "push new records to a school's shared ones",
        "eyesout sync postgresql://USER@HOST/DATABASE",
    ),
    "hear": Listing(
        "runner.command.hear",
        "what the ear makes of recordings, one JSON line each",
        'eyesout hear --phrases "flag pulled|flag in view" answer.wav',
    ),
    "models": Listing(
        "runner.command.models",
        "which ears there are; fetch, verify and remove Vosk models",
        "eyesout models fetch vosk-model-small-en-us-0.15",
    ),
    "mic": Listing(
        "runner.command.mic",
        "the microphone's level and what is heard; with --learn, fit the ear to your voice",
        "eyesout mic --learn --by NAME",
    ),
    "bus": Listing(
        "runner.command.bus",
        "what lives and what dies when the selector moves or something fails",
        "eyesout bus merlow-ml2 --selector reserve",
    ),
    "endurance": Listing(
        "runner.command.endurance",
        "for how many minutes the battery carries the airplane",
        "eyesout endurance merlow-ml2",
    ),
    "lint": Listing(
        "runner.command.lint",
        "hold checks against airplanes and published checklist rules, and airplanes against themselves",
        "eyesout lint merlow-reserve",
    ),
    "audit": Listing(
        "runner.command.audit",
        "which single failures a check would never notice, and what would show them",
        "eyesout audit merlow-ml2 merlow-reserve",
    ),
    "diagnose": Listing(
        "runner.command.diagnose",
        "which single failure explains a run's answers, and where to look next",
        "eyesout diagnose last",
    ),
    "derive": Listing(
        "runner.command.derive",
        "write a reserve-bus check from an airplane file, to be edited",
        "eyesout derive tarn-qx83 --to my-check.yaml",
    ),
    "devices": Listing("runner.command.devices", "list the sound devices", "eyesout devices --json"),
}


_DATA: Final = frozenset({"derive", "export", "hear"})
"""Commands whose output is for a program or an editor: its lines are never wrapped."""


def main(words: Sequence[str] | None = None) -> int:
    """Run one command; the exit code is 0, the command's own, or the error's."""
    words = sys.argv[1:] if words is None else list(words)
    try:
        settle_streams()
        code = _dispatch(words)
        sys.stdout.flush()
    except EyesoutError as error:
        for each in error.errors if isinstance(error, MistakesError) else (error,):
            _tell(masked(str(each)))
        return error.exit_code
    except KeyboardInterrupt:
        _tell("stopped by the keyboard; a run in progress can be resumed")
        return 130
    except BrokenPipeError:
        leave_output()
        return EXIT_BROKEN_PIPE
    except OSError as error:
        leave_output()
        _tell(f"cannot go on: {error.filename or 'standard output'}: {error.strerror or error}")
        return OutputError.exit_code
    return code


def _tell(words: str) -> None:
    """One line on standard error, whatever is in the words."""
    with contextlib.suppress(OSError):  # nobody is there to be told
        print(f"eyesout: {visible(' '.join(words.splitlines()))}", file=sys.stderr, flush=True)


def _dispatch(words: Sequence[str]) -> int:
    for word in words:
        if any("\ud800" <= letter <= "\udfff" for letter in word):  # as Python writes bytes that are no text
            raise UsageError(f"{word!r} is not UTF-8 text; write it with this terminal's own letters")
    if not words or words[0] in ("-h", "--help"):
        print(_overview())
        return 0 if words else 2
    if words[0] == "--version":
        print(_version())
        return 0
    listing = COMMANDS.get(words[0])
    if listing is None:
        print(f'eyesout: no command "{words[0]}"; known: {", ".join(COMMANDS)}', file=sys.stderr)
        return 2
    command = cast("CommandPort", importlib.import_module(listing.module))
    parser = Parser(
        prog=f"eyesout {words[0]}",
        description=listing.summary[0].upper() + listing.summary[1:] + ".",
        epilog=f"example: {listing.example}",
    )
    command.add_arguments(parser)
    arguments = parser.parse_args(words[1:])
    is_data = words[0] in _DATA or getattr(arguments, "json", False)
    width = None if is_data else terminal_width(sys.stdout)
    return command.run(arguments, cast("TextIO", VisibleText(sys.stdout, width)))


def _overview() -> str:
    width = max(map(len, COMMANDS))
    lines = [f"  {name:<{width}}  {listing.summary}" for name, listing in COMMANDS.items()]
    closing = ("", "eyesout COMMAND --help shows each with an example.", "", STANDING_CAUTION)
    return "\n".join(("usage: eyesout COMMAND ...", "", *lines, *closing))


def _version() -> str:
    from importlib.metadata import version  # noqa: PLC0415 - only this answer needs it

    return f"eyesout {version('eyesout')}"


if __name__ == "__main__":
    sys.exit(main())
