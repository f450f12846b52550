"""`eyesout endurance` in plain text."""

from __future__ import annotations

import textwrap
from math import isinf
from typing import Final

from runner.airplane.minutes.capacity import Health
from runner.airplane.minutes.shedding import Shedding
from runner.report.bus.endurance_report import EnduranceReport, assumptions
from runner.report.draw.text_table import table

WIDTH: Final = 96
ROWS: Final = 8


def endurance_text(report: EnduranceReport, width: int | None = None) -> str:
    """The whole report, ready to print; tables within `width` cells."""
    parts = (
        _head(report),
        _usable(report, width),
        _phases(report, width),
        _volts(report, width),
        _verdict(report),
        _shed(report, width),
    )
    rest = (
        _elsewhere(report, width),
        _generators(report, width),
        _parked(report),
        _assumptions(report, width),
    )
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


def _usable(report: EnduranceReport, width: int | None) -> list[str]:
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
    return [*table(rows, "", width), *warning, ""]


def _phases(report: EnduranceReport, width: int | None) -> list[str]:
    rows = [("PHASE", "POSITION", "AMPS", "MINUTES", "AH")]
    rows += [
        (str(use.phase), use.position, f"{use.amps:6.1f}", f"{use.minutes:7.1f}", f"{use.ampere_hours:5.1f}")
        for use in report.plain.phases
    ]
    drawn = sum(use.ampere_hours for use in report.plain.phases)
    rows.append(("total", "", "", f"{report.plain.total_minutes:7.1f}", f"{drawn:5.1f}"))
    return [*table(rows, "", width), ""]


def _volts(report: EnduranceReport, width: int | None) -> list[str]:
    """Volts of the battery and of the worst live bus as the minutes go."""
    found, battery = report.stamina, report.airplane.battery
    rows = [("BY VOLTS", "MINUTE", battery.bus.upper(), "LOWEST BUS", "CHARGE", "CELSIUS")]
    instants = found.rundown.instants
    step = max(1, len(instants) // ROWS)
    for each in (*instants[:-1:step], instants[-1]):
        state, live = each.states[battery.name], [volts for volts in each.volts.values() if volts]
        rows.append(
            (
                str(each.phase),
                f"{each.minute:6.1f}",
                f"{each.volts[battery.bus]:5.1f} V",
                f"{min(live, default=0.0):5.1f} V",
                f"{state.charge * 100:4.0f} %",
                f"{state.celsius:5.1f}",
            )
        )
    return [*table(rows, "", width), *_lost(report), ""]


def _lost(report: EnduranceReport) -> list[str]:
    lapses = report.stamina.rundown.lapses
    if not lapses:
        return ["nothing is lost before the end"]
    return [
        f"LOST at {each.minute:.1f} min: {each.name}: {each.cause}"
        + ("; it must be kept" if each.is_kept else "")
        for each in lapses
    ]


def _parked(report: EnduranceReport) -> list[str]:
    drain = report.drain
    days = "" if isinf(drain.days) else f": {drain.days:.0f} days until nothing may be counted on"
    late = " (OVERDUE)" if report.next_test < report.conditions.on else ""
    rest = max(1, round(report.recovery_minutes))
    return [
        "PARKED",
        f"the hot bus takes {drain.amps:.2f} A{days}",
        f"next capacity test by {report.next_test}{late}; the maker's manual decides",
        f"after the reserve's load, volts at rest mean nothing for some {rest} min; charge, for 3 h",
        "",
    ]


def _verdict(report: EnduranceReport) -> list[str]:
    spread, required = report.spread, report.plain.required_minutes
    plain = "reaches" if report.stamina.is_enough else "DOES NOT REACH"
    low = "reaches" if spread.low >= required else "DOES NOT REACH"
    rest = (
        f"median {spread.median:.0f}, high {spread.high:.0f}; {spread.enough_share * 100:.0f} % of samples do"
    )
    return [
        f"As stated {report.stamina.minutes:.0f} min: {plain} the {required:g} min asked for.",
        f"Low case {spread.low:.0f} min: {low} it ({rest}).",
        "",
    ]


def _shed(report: EnduranceReport, width: int | None) -> list[str]:
    rows = [(each.load, f"+{each.minutes:.1f} min", each.keep) for each in report.gains]
    gained = [*table([("SWITCHED OFF, IT GIVES", "", ""), *rows], "", width), ""] if rows else []
    lines = [*gained, "TO REACH, EVEN IN THE LOW CASE"]
    for found in report.sheddings:
        lines += textwrap.wrap(_shed_words(found), width or WIDTH, subsequent_indent="    ")
    return [*lines, ""]


def _shed_words(found: Shedding) -> str:
    times = f"{found.total_minutes:.0f} min as stated, {found.low_minutes:.0f} min low case"
    if not found.loads:
        action = "shed nothing" if found.is_enough else "nothing is left to shed"
    else:
        action = f"shed {', '.join(found.loads)}"
    short = "" if found.is_enough else "OUT OF REACH: "
    return f"{found.target_minutes:g} min: {short}{action} ({times})"


def _elsewhere(report: EnduranceReport, width: int | None) -> list[str]:
    if not report.elsewhere:
        return []
    rows = [
        (f'selector at "{position}" from the cruise on', f"{each.total_minutes:.0f} min as stated")
        for position, each in report.elsewhere.items()
    ]
    return [*table([("OTHER POSITIONS", ""), *rows], "", width), ""]


def _generators(report: EnduranceReport, width: int | None) -> list[str]:
    rows = [("GENERATORS IN CRUISE", "", "", "")]
    for each in report.loadings:
        state = f"with {each.lost} lost" if each.lost else "all working"
        mark = "OVER 80 %" if each.is_over else f"{each.amps / each.rated_amps * 100:.0f} %"
        rows.append((each.generator, state, f"{each.amps:.0f} of {each.rated_amps:g} A", mark))
    lines = [
        f"with the {name} alone still turning: "
        + ("it goes on" if each.goes_on else f"{each.minutes:.0f} min by volts")
        for name, each in report.helped.items()
    ]
    return [
        *table(rows, "", width),
        *lines,
        "80 % is a rule of thumb (AC 43.13-1B 11-35 a), not a load analysis",
        "",
    ]


def _assumptions(report: EnduranceReport, width: int | None) -> list[str]:
    lines = ["ASSUMPTIONS"]
    for words in assumptions(report):
        lines += textwrap.wrap(
            words, width or WIDTH, break_on_hyphens=False, initial_indent="- ", subsequent_indent="  "
        )
    return lines
