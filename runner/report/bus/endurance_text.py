"""`eyesout endurance` in plain text."""

from __future__ import annotations

import textwrap
from typing import Final

from runner.airplane.minutes.capacity import Health
from runner.airplane.minutes.shedding import Shedding
from runner.report.bus.endurance_report import EnduranceReport, assumptions
from runner.report.draw.text_table import table

WIDTH: Final = 96


def endurance_text(report: EnduranceReport) -> str:
    """The whole report, ready to print."""
    parts = (_head(report), _usable(report), _phases(report), _verdict(report), _shed(report))
    rest = (_elsewhere(report), _generators(report), _assumptions(report))
    return "\n".join("\n".join(lines) for lines in (*parts, *rest) if lines) + "\n"


def _head(report: EnduranceReport) -> list[str]:
    battery = report.airplane.battery
    label = (
        f"{battery.chemistry}, {battery.cells} cells, {battery.ampere_hours:g} Ah at {battery.hour_rate:g} h"
    )
    asked = report.conditions
    return [
        f"{report.airplane.title} ({report.airplane.registration})",
        f"{battery.name}: {label}",
        f"on {asked.on}, at {asked.celsius:g} C, charged {asked.charge_percent:.0f} %",
        "",
    ]


def _usable(report: EnduranceReport) -> list[str]:
    shares = report.plain.usable
    rows = [
        ("USABLE", ""),
        ("rated", f"{shares.rated:6.1f} Ah"),
        ("x health", f"{shares.health * 100:6.1f} %", f"({report.health})"),
        ("x temperature", f"{shares.temperature * 100:6.1f} %"),
        ("x charge", f"{shares.charge * 100:6.1f} %"),
        ("= usable", f"{shares.ampere_hours:6.1f} Ah"),
    ]
    warning = []
    if report.health in (Health.FAILED, Health.UNFIT):
        warning = [f"WARNING: the battery is at {shares.health * 100:.0f} % of its rating: {report.health}"]
    return [*table(rows, ""), *warning, ""]


def _phases(report: EnduranceReport) -> list[str]:
    rows = [("PHASE", "POSITION", "AMPS", "MINUTES", "AH")]
    rows += [
        (str(use.phase), use.position, f"{use.amps:6.1f}", f"{use.minutes:7.1f}", f"{use.ampere_hours:5.1f}")
        for use in report.plain.phases
    ]
    drawn = sum(use.ampere_hours for use in report.plain.phases)
    rows.append(("total", "", "", f"{report.plain.total_minutes:7.1f}", f"{drawn:5.1f}"))
    return [*table(rows, ""), ""]


def _verdict(report: EnduranceReport) -> list[str]:
    spread, required = report.spread, report.plain.required_minutes
    plain = "reaches" if report.plain.is_enough else "DOES NOT REACH"
    low = "reaches" if spread.low >= required else "DOES NOT REACH"
    rest = (
        f"median {spread.median:.0f}, high {spread.high:.0f}; {spread.enough_share * 100:.0f} % of samples do"
    )
    return [
        f"As stated {report.plain.total_minutes:.0f} min: {plain} the {required:g} min asked for.",
        f"Low case {spread.low:.0f} min: {low} it ({rest}).",
        "",
    ]


def _shed(report: EnduranceReport) -> list[str]:
    lines = ["TO REACH, EVEN IN THE LOW CASE"]
    for found in report.sheddings:
        lines += textwrap.wrap(_shed_words(found), WIDTH, subsequent_indent="    ")
    return [*lines, ""]


def _shed_words(found: Shedding) -> str:
    times = f"{found.total_minutes:.0f} min as stated, {found.low_minutes:.0f} min low case"
    if not found.loads:
        action = "shed nothing" if found.is_enough else "nothing is left to shed"
    else:
        action = f"shed {', '.join(found.loads)}"
    short = "" if found.is_enough else "OUT OF REACH: "
    return f"{found.target_minutes:g} min: {short}{action} ({times})"


def _elsewhere(report: EnduranceReport) -> list[str]:
    if not report.elsewhere:
        return []
    rows = [
        (f'selector at "{position}" from the cruise on', f"{each.total_minutes:.0f} min as stated")
        for position, each in report.elsewhere.items()
    ]
    return [*table([("OTHER POSITIONS", ""), *rows], ""), ""]


def _generators(report: EnduranceReport) -> list[str]:
    rows = [("GENERATORS IN CRUISE", "", "", "")]
    for each in report.loadings:
        state = f"with {each.lost} lost" if each.lost else "all working"
        mark = "OVER 80 %" if each.is_over else f"{each.amps / each.rated_amps * 100:.0f} %"
        rows.append((each.generator, state, f"{each.amps:.0f} of {each.rated_amps:g} A", mark))
    return [*table(rows, ""), "80 % is a rule of thumb (AC 43.13-1B 11-35 a), not a load analysis", ""]


def _assumptions(report: EnduranceReport) -> list[str]:
    lines = ["ASSUMPTIONS"]
    for words in assumptions(report):
        lines += textwrap.wrap(words, WIDTH, initial_indent="- ", subsequent_indent="  ")
    return lines
