"""`eyesout run CHECK`: by voice with a headset, by keys alone, or with a scripted pilot."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Final, TextIO

from runner.command.figure import figure, whole
from runner.errors import UsageError
from runner.place import logbook_folder, scripted_folder
from runner.session.data_file import find_pilot
from runner.session.engine import BUILTIN, ENGINE_HELP
from runner.voice.listen.endpoint import Patience
from runner.voice.mouth.pyttsx3_voice import RATE_WORDS_A_MINUTE

CELSIUS: Final = (-90, 60)
"""Degrees Celsius that air near the ground has had: -89.2 and 56.7 are the records (WMO, from memory)."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The check, how it is answered, and who runs it."""
    parser.add_argument("check", nargs="?", default="", help="a shipped check's name, or a YAML file")
    how = add_answering(parser)
    how.add_argument(
        "--pilot",
        metavar="FILE",
        help="a scripted pilot instead of a microphone: a shipped one, or a YAML file",
    )
    what = parser.add_argument_group("what is recorded")
    what.add_argument("--by", default="", metavar="NAME", help="who runs the check")
    what.add_argument("--oat", type=figure(*CELSIUS), metavar="CELSIUS", help="outside air temperature")
    what.add_argument(
        "--logbook", type=Path, help="the logbook's folder; a scripted pilot has one of its own"
    )
    what.add_argument(
        "--resume", nargs="?", const="", metavar="RUN", help="go on with a run that was stopped (the latest)"
    )
    what.add_argument(
        "--rehearse", action="store_true", help="a drill: nothing of it is kept with the airplane's records"
    )
    parser.add_argument("--json", action="store_true", help="with --pilot: the result as JSON")


def add_answering(parser: argparse.ArgumentParser) -> argparse._ArgumentGroup:
    """How a run or a drill is answered: ear, voice, cards, keys."""
    how = parser.add_argument_group("how it is answered")
    how.add_argument("--keys", action="store_true", help="by keys alone, with no sound device at all")
    how.add_argument("--plain", action="store_true", help="plain text instead of the full screen")
    how.add_argument("--headset", action="store_true", help="the microphone cannot hear the loudspeaker")
    how.add_argument("--patience", choices=[each.value for each in Patience], default="normal")
    how.add_argument(
        "--engine", default="", help=f"{ENGINE_HELP}; what was learned of you goes before builtin"
    )
    how.add_argument("--microphone", default="", metavar="DEVICE", help="number or part of its name")
    how.add_argument("--loudspeaker", default="", metavar="DEVICE", help="number or part of its name")
    how.add_argument("--voice", default="", help="heart (the default), system, or a voice of the system")
    how.add_argument("--emphasis", action="store_true", help="brighter prompts, for a noisy cockpit")
    how.add_argument(
        "--rate",
        type=whole(60, 400),
        default=RATE_WORDS_A_MINUTE,
        metavar="WORDS",
        help="words a minute of plain text",
    )
    return how


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Run it; 0 when the check was completed, 1 when it was not."""
    if arguments.pilot is not None and arguments.rehearse:
        raise UsageError("--rehearse is for people; a scripted pilot has a logbook of its own already")
    if arguments.pilot is not None:
        return _run_pilot(arguments, out)
    if arguments.json:
        raise UsageError("--json goes with --pilot; a live run is shown on the screen")
    if not arguments.check and arguments.resume is None:
        raise UsageError("name a check, such as merlow-reserve, or --resume a run")
    arguments.logbook = arguments.logbook or logbook_folder()
    if arguments.rehearse:
        if arguments.resume is not None:
            raise UsageError("a rehearsal is not gone on with; begin a new one with --rehearse")
        from runner.command.drill_live import run_rehearsal  # noqa: PLC0415 - the screen takes time to load

        return run_rehearsal(arguments, out)
    from runner.command.live import run_room  # noqa: PLC0415 - the screen takes time to load

    return run_room(arguments, out)


def _run_pilot(arguments: argparse.Namespace, out: TextIO) -> int:
    from runner.command.pilot import EXCHANGE, PilotRun, report_exchange, run_pilot  # noqa: PLC0415 - as above

    folder = arguments.logbook or scripted_folder()
    wanted = PilotRun(
        check=arguments.check,
        script=find_pilot(arguments.pilot),
        logbook=folder,
        exchange=folder / EXCHANGE,
        engine=arguments.engine or BUILTIN,
        pilot=arguments.by or "scripted pilot",
    )
    return report_exchange(lambda tell: run_pilot(wanted, tell), out, as_json=arguments.json)
