"""`eyesout bus` in plain text: what lives and dies beside the normal position, and what each seat keeps."""

from __future__ import annotations

from collections.abc import Iterator

from runner.airplane.life.lively import Picture
from runner.airplane.life.seat import PILOT_SENSES, SeatView, seat_view
from runner.airplane.model.instrument import Sense
from runner.airplane.model.rule import ROWS, RuleRow
from runner.report.bus.bus_report import BusReport, power_words
from runner.report.draw.text_table import table

MARK = {True: "alive", False: "DEAD"}


def bus_text(report: BusReport, width: int | None = None) -> str:
    """The whole report, ready to print; tables within `width` cells."""
    parts = (
        _head(report),
        _limits(report),
        _sources(report, width),
        _buses(report, width),
        _loads(report, width),
        _partial(report, width),
    )
    seats = (_seats(report, width), _rule(report, width), _gone(report, width))
    return "\n".join("\n".join(lines) for lines in (*parts, *seats) if lines) + "\n"


def path_text(report: BusReport, load: str) -> str:
    """One load's path, and every break in it."""
    path = report.path(load)
    lines = [f"{load}: {MARK[not path.breaks]}", "  " + " > ".join(path.steps)]
    return "\n".join([*lines, *(f"  break: {each.cause}" for each in path.breaks)]) + "\n"


def _head(report: BusReport) -> list[str]:
    airplane, situation = report.airplane, report.after.situation
    lost = ", ".join(name for name in (*airplane.sources, *airplane.pumps) if name in situation.lost)
    pulled = ", ".join(name for name in airplane.breakers if name in situation.pulled)
    normal = report.before.situation.position
    return [
        f"{airplane.title} ({airplane.registration})",
        f'{airplane.selector.name} at "{situation.position}", beside "{normal}" with every source working',
        f"lost: {lost or 'nothing'}",
        *([f"breakers out: {pulled}"] if pulled else []),
        "amperes are steady, minus into a battery; volts follow from the file's resistances and charge",
        "",
    ]


def _limits(report: BusReport) -> list[str]:
    lines = [f"PASSED: {limit.message}" for limit in report.limits()]
    lines += [f"PASSED while all start at once: {limit.message}" for limit in report.starting()]
    return [*lines, ""] if lines else ["no limit is passed", ""]


def _sources(report: BusReport, width: int | None) -> list[str]:
    rows = [("SOURCES", *_positions(report))]
    rows += [
        (name, _source(report.before, name), _source(report.after, name)) for name in report.airplane.sources
    ]
    return [*table(rows, "", width), ""]


def _source(picture: Picture, name: str) -> str:
    if name in picture.situation.lost:
        return "lost"
    volts = picture.solution.volts[picture.airplane.sources[name].bus]
    amps = round(picture.solution.source_amps[name], 1) + 0.0  # no minus before nothing
    return f"{amps:.1f} A at {volts:.1f} V"


def _positions(report: BusReport) -> tuple[str, str]:
    return report.before.situation.position.upper(), report.after.situation.position.upper()


def _buses(report: BusReport, width: int | None) -> list[str]:
    rows = [("BUSES", *_positions(report))]
    rows += [(bus, _bus(report.before, bus), _bus(report.after, bus)) for bus in report.airplane.buses]
    return [*table(rows, "", width), ""]


def _bus(picture: Picture, bus: str) -> str:
    carriers = picture.solution.carriers.get(bus)
    if carriers is None:
        return MARK[False]
    solution = picture.solution
    return f"{solution.volts[bus]:.1f} V, {solution.bus_amps[bus]:.1f} A from {' + '.join(carriers)}"


def _loads(report: BusReport, width: int | None) -> list[str]:
    """A heading for each reason, once, and under it the loads that live or die by it."""
    before, after = report.before.solution.alive, report.after.solution.alive
    reasons: dict[str, list[tuple[str, ...]]] = {}
    for name, load in report.airplane.loads.items():
        path = report.path(name)
        why = str(path) if path.breaks else f"from {load.feeds[0].bus}"
        cells = (f"  {name}", f"{load.amps:5.2f}", MARK[name in before], MARK[name in after])
        reasons.setdefault(why, []).append(cells)
    rows: list[tuple[str, ...]] = [("LOADS", "AMPS", *_positions(report))]
    for why, loads in reasons.items():
        rows += [(why,), *loads]
    return [*table(rows, "", width), ""]


def _partial(report: BusReport, width: int | None) -> list[str]:
    rows = [
        (name, f"{', '.join(live)} alive", f"{', '.join(dead)} DEAD") for name, live, dead in report.partial()
    ]
    return [*table([("IN PART", "", ""), *rows], "", width), ""] if rows else []


def _seats(report: BusReport, width: int | None) -> list[str]:
    left, right = report.views()
    rows: list[tuple[str, ...]] = [("SEATS", "LEFT", "RIGHT")]
    for sense in PILOT_SENSES:
        rows += _sense_rows(report, sense, left, right)
    return [*table(rows, "", width), ""]


def _sense_rows(
    report: BusReport, sense: Sense, left: SeatView, right: SeatView
) -> Iterator[tuple[str, str, str]]:
    sides = [
        [f"{kept.shown_by}, {power_words(report, kept)}" for kept in view.kept[sense]] or ["none"]
        for view in (left, right)
    ]
    for line in range(max(map(len, sides))):
        cells = [side[line] if line < len(side) else "" for side in sides]
        yield ("" if line else str(sense), cells[0], cells[1])


def _rule(report: BusReport, width: int | None) -> list[str]:
    left, right = report.views()
    rows: list[tuple[str, ...]] = [("14 CFR", "INSTRUMENT FLIGHT RULES", "LEFT", "RIGHT")]
    rows += [
        (row.paragraph, row.wants, *(_kept(report, view, row) for view in (left, right))) for row in ROWS
    ]
    counts = [sum(view.meets(row) for row in ROWS) for view in (left, right)]
    rows.append(("", f"of {len(ROWS)}", str(counts[0]), str(counts[1])))
    fuller = report.fuller
    verdict = "both seats keep the same" if fuller is None else f"the {fuller} seat keeps the fuller set"
    return [*table(rows, "", width), f"{verdict}; the pilot in command decides what may be flown", ""]


def _kept(report: BusReport, view: SeatView, row: RuleRow) -> str:
    if view.meets(row):
        return "kept"
    return "GONE" if seat_view(report.before, view.seat).meets(row) else "never had"


def _gone(report: BusReport, width: int | None) -> list[str]:
    rows = [("GONE", "")]
    rows += [(str(service), ", ".join(names) or "nothing") for service, names in report.gone()]
    return table(rows, "", width)
