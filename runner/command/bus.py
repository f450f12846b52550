"""`eyesout bus AIRPLANE`: what lives and dies in a selector position, and which seat keeps what."""

from __future__ import annotations

import argparse
import difflib
import json
from collections.abc import Iterable
from pathlib import Path
from typing import TextIO

from runner.airplane.life.neighbour import loads_behind, neighbours_of
from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation
from runner.command.whole_file import write_whole
from runner.errors import UsageError
from runner.language.catalogue import STANDING_CAUTION
from runner.report.bus.bus_report import BusReport, bus_dict, bus_report
from runner.report.bus.bus_text import bus_text, path_text
from runner.report.bus.diagram import diagram_svg
from runner.session.data_file import find_airplane
from runner.visible import width_of

NOTHING = "nothing"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The airplane, its situation, and the form of the answer."""
    parser.add_argument("airplane", help="a shipped airplane's name, or a YAML file")
    what = parser.add_argument_group("the situation (each may be given several times)")
    what.add_argument("--selector", metavar="POSITION", help="selector position (default: the reserve)")
    what.add_argument(
        "--lost",
        action="append",
        metavar="SOURCE",
        help='a lost source or pump, or "nothing" (default: all but the battery)',
    )
    what.add_argument(
        "--pulled", action="append", default=[], metavar="BREAKER", help="a breaker that is out"
    )
    what.add_argument("--stuck-open", action="append", default=[], metavar="LINK", help="a relay stuck open")
    what.add_argument("--stuck-closed", action="append", default=[], metavar="LINK", help="a relay welded")
    what.add_argument(
        "--shorted", action="append", default=[], metavar="BUS", help="a bus that carries nothing"
    )
    what.add_argument("--failed", action="append", default=[], metavar="LOAD", help="a load that has failed")
    what.add_argument(
        "--switch",
        action="append",
        default=[],
        metavar="NAME=POSITION",
        help="a switch that does not stand where it belongs",
    )
    form = parser.add_argument_group("the answer")
    form.add_argument(
        "--why", metavar="NAME", help="only the path of this load or instrument, and its neighbours"
    )
    form.add_argument("--svg", type=Path, metavar="FILE", help="write the diagram as well")
    form.add_argument("--json", action="store_true", help="print the report as JSON")


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Print the report; FileError or UsageError for whatever is wrong with what was asked."""
    airplane = load_airplane(find_airplane(arguments.airplane))
    report = bus_report(airplane, _situation(airplane, arguments))
    if arguments.svg is not None:
        write_whole(arguments.svg, diagram_svg(report))
    if arguments.json:
        out.write(json.dumps(bus_dict(report), indent=2) + "\n")
    elif arguments.why is not None:
        out.write(_why(report, arguments.why))
    else:
        out.write(bus_text(report, width_of(out)) + f"\n{STANDING_CAUTION}\n")
    return 0


def known_name(name: str, known: Iterable[str], noun: str) -> str:
    """The name, if the airplane has it; UsageError with the nearest one if not."""
    listed = list(known)
    if name in listed:
        return name
    near = difflib.get_close_matches(name, listed, n=1, cutoff=0.4)
    advice = f'did you mean "{near[0]}"?' if near else f"known: {', '.join(listed) or 'none'}"
    raise UsageError(f'no {noun} "{name}" in this airplane; {advice}')


def _situation(airplane: Airplane, arguments: argparse.Namespace) -> Situation:
    position = arguments.selector or airplane.selector.reserve
    return Situation(
        position=known_name(position, airplane.selector.positions, "selector position"),
        lost=_lost(airplane, arguments.lost),
        pulled=_names(arguments.pulled, airplane.breakers, "breaker"),
        stuck_open=_names(arguments.stuck_open, airplane.links, "link"),
        stuck_closed=_names(arguments.stuck_closed, airplane.links, "link"),
        shorted=_names(arguments.shorted, airplane.buses, "bus"),
        failed=_names(arguments.failed, airplane.loads, "load"),
        moved=frozenset(_moved(airplane, words) for words in arguments.switch),
        is_parked=position == airplane.selector.parked,
    )


def _moved(airplane: Airplane, words: str) -> tuple[str, str]:
    name, equals, position = words.partition("=")
    if not equals:
        raise UsageError(f'--switch "{words}" has no position; write NAME=POSITION')
    switch = airplane.switches[known_name(name, airplane.switches, "switch")]
    return name, known_name(position, switch.positions, f"position of {name}")


def _lost(airplane: Airplane, asked: list[str] | None) -> frozenset[str]:
    if asked is None:
        return airplane.other_sources
    if NOTHING in asked:
        return frozenset()
    return _names(asked, (*airplane.sources, *airplane.pumps), "source")


def _names(asked: Iterable[str], known: Iterable[str], noun: str) -> frozenset[str]:
    listed = list(known)
    return frozenset(known_name(name, listed, noun) for name in asked)


def _why(report: BusReport, name: str) -> str:
    airplane = report.airplane
    known_name(name, report.after.lives(), "load or instrument")
    neighbours = neighbours_of(airplane, name)
    loads = sorted(loads_behind(airplane, name))
    paths = [path_text(report, load) for load in loads] or [f"{name}: no load of this airplane drives it\n"]
    shared = (("breaker", neighbours.on_breaker), ("bus", neighbours.on_bus))
    return "".join(paths) + "".join(f"same {noun}: {', '.join(names) or 'none'}\n" for noun, names in shared)
