"""`eyesout endurance AIRPLANE`: minutes on the battery, in phases, with the low case and what to shed."""

from __future__ import annotations

import argparse
import json
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TextIO

from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.minutes.capacity import Conditions
from runner.airplane.minutes.charge import NoCharge, charge_from_volts
from runner.airplane.model.airplane import Airplane, EndurancePlan
from runner.command.figure import MINUTES, figure
from runner.errors import UsageError
from runner.language.catalogue import STANDING_CAUTION
from runner.report.bus.endurance_chart import draw_endurance
from runner.report.bus.endurance_report import TARGETS, endurance_dict, endurance_report
from runner.report.bus.endurance_text import endurance_text
from runner.session.data_file import find_airplane
from runner.visible import width_of


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The airplane, the state of its battery, the flight, and the form of the answer."""
    parser.add_argument("airplane", help="a shipped airplane's name, or a YAML file")
    battery = parser.add_argument_group("the battery (default: as the airplane's file plans)")
    battery.add_argument(
        "--charge", type=figure(0, 100), metavar="PERCENT", help="percent of what it can hold"
    )
    battery.add_argument(
        "--volts", type=figure(0, 100), help="open-circuit volts of a rested lead-acid battery"
    )
    battery.add_argument(
        "--rested", type=figure(0, 10_000), metavar="HOURS", help="with --volts: hours at rest"
    )
    battery.add_argument("--celsius", type=figure(-60, 80), help="its temperature")
    battery.add_argument(
        "--on", type=_day, metavar="DATE", help="day of the flight, 2026-03-31 (default: today)"
    )
    flight = parser.add_argument_group("the flight")
    flight.add_argument("--recognise", type=figure(*MINUTES), metavar="MINUTES", help="until loads are shed")
    flight.add_argument(
        "--approach", type=figure(*MINUTES), metavar="MINUTES", help="for approach and landing"
    )
    flight.add_argument(
        "--reach",
        type=figure(1, 600),
        action="append",
        metavar="MINUTES",
        help="what to shed for this (default: 30, 60)",
    )
    form = parser.add_argument_group("the answer")
    form.add_argument("--chart", type=Path, metavar="FILE", help="write a chart as well: .svg or .png")
    form.add_argument("--json", action="store_true", help="print the report as JSON")


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Print the report; FileError or UsageError for whatever is wrong with what was asked."""
    airplane = load_airplane(find_airplane(arguments.airplane))
    charge, told = _charge(airplane, arguments)
    conditions = Conditions(
        on=arguments.on or datetime.now(UTC).date(),
        charge_percent=charge,
        celsius=airplane.battery.celsius if arguments.celsius is None else arguments.celsius,
    )
    plan = _plan(airplane, arguments)
    report = endurance_report(airplane, conditions, plan, tuple(arguments.reach or TARGETS))
    if arguments.chart is not None:
        draw_endurance(report, arguments.chart)
    if arguments.json:
        out.write(json.dumps(endurance_dict(report), indent=2) + "\n")
    else:
        out.write(f"{endurance_text(report, width_of(out))}{told}\n{STANDING_CAUTION}\n")
    return 0


def _charge(airplane: Airplane, arguments: argparse.Namespace) -> tuple[float, str]:
    """Percent of charge, and what to say about where it comes from."""
    if arguments.volts is None:
        charge = airplane.battery.charge_percent if arguments.charge is None else arguments.charge
        return charge, ""
    if arguments.charge is not None:
        raise UsageError("--charge and --volts both give the charge; use one of them")
    if arguments.rested is None:
        raise UsageError("--volts says nothing without --rested HOURS; give both")
    answer = charge_from_volts(airplane.battery, arguments.volts, arguments.rested)
    if isinstance(answer, NoCharge):
        raise UsageError(f"{answer.cause}; give --charge instead")
    band = f"{answer.low:.0f} to {answer.high:.0f} % of charge"
    return answer.low, f"- {arguments.volts:g} V at rest means {band}; the low end is used.\n"


def _plan(airplane: Airplane, arguments: argparse.Namespace) -> EndurancePlan:
    plan = airplane.endurance
    if arguments.recognise is not None:
        plan = replace(plan, recognise_minutes=arguments.recognise)
    if arguments.approach is not None:
        plan = replace(plan, approach_minutes=arguments.approach)
    return plan


def _day(words: str) -> date:
    try:
        return date.fromisoformat(words)
    except ValueError:
        raise argparse.ArgumentTypeError(f'"{words}" is not a date; write it as 2026-03-31') from None
