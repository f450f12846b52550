"""`eyesout demo`: a whole spoken check of an invented airplane, with no microphone."""

import argparse
from pathlib import Path
from typing import TextIO

from runner.command.drill_demo import run_drill_demo
from runner.command.pilot import EXCHANGE, PilotRun, report_exchange, run_pilot
from runner.errors import UsageError
from runner.place import data_folder
from runner.session.engine import BUILTIN, ENGINE_HELP


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Where the results go, and which ear listens."""
    parser.add_argument(
        "--folder",
        type=Path,
        default=Path("eyesout-demo"),
        help="where the record, the sound and the exchange go (default: ./eyesout-demo)",
    )
    parser.add_argument("--engine", default=BUILTIN, help=ENGINE_HELP)
    parser.add_argument(
        "--drill", action="store_true", help="a drill with a scripted student, and its debrief, instead"
    )
    parser.add_argument(
        "--json", action="store_true", help="print the result as JSON instead of the exchange"
    )


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Run it; the exit code is 0 when the check was completed."""
    if arguments.drill:
        if arguments.json:
            raise UsageError("--json goes without --drill; see `eyesout drill --debrief --json`")
        return run_drill_demo(arguments.folder, arguments.engine, out)
    wanted = PilotRun(
        check="",
        script=data_folder("demo") / "merlow-pilot.yaml",
        logbook=arguments.folder / "logbook",
        exchange=arguments.folder / EXCHANGE,
        engine=arguments.engine,
        pilot="demo",
    )
    return report_exchange(lambda tell: run_pilot(wanted, tell), out, as_json=arguments.json)
