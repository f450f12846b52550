"""`eyesout trend AIRPLANE`: what gyros, volts and response times do, and when a limit is near."""

import argparse
import re
from pathlib import Path
from typing import TextIO

from runner.command.record_option import add_json, add_logbook, write_json
from runner.errors import UsageError
from runner.language.catalogue import STANDING_CAUTION
from runner.logbook.record.opening import open_shelf
from runner.report.fleet.airplane_trend import AirplaneTrends, trends_of
from runner.report.trend.trend_chart import FORMATS, draw_trend
from runner.report.trend.trend_json import trend_dict
from runner.report.trend.trend_text import trend_text
from runner.visible import visible, width_of


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Which airplane and series, how it is shown, where charts go."""
    parser.add_argument("airplane", help="a registration, or an airplane file's name if it means one tail")
    parser.add_argument("--series", metavar="NAME", help="one gyro, reading, or response times (all)")
    parser.add_argument(
        "--graph", action="store_true", help="a chart of every series in the terminal, not only of what moved"
    )
    parser.add_argument("--charts", type=Path, metavar="FOLDER", help="write one chart per series there")
    parser.add_argument(
        "--format", choices=[each[1:] for each in FORMATS], default="svg", help="of the charts"
    )
    add_logbook(parser)
    add_json(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Print the trends; the exit code is 0 whether or not something moved."""
    with open_shelf(arguments.logbook) as shelf:
        airplane = _chosen(trends_of(shelf, arguments.airplane), arguments.series)
    written = [] if arguments.charts is None else _charts(airplane, arguments.charts, arguments.format)
    if arguments.json:
        write_json(trend_dict(airplane), out)
        return 0
    out.writelines(
        f"{visible(line)}\n"
        for line in trend_text(airplane, with_graphs=arguments.graph, width=width_of(out))
    )
    out.writelines(f"wrote {path}\n" for path in written)
    out.write(f"\n{STANDING_CAUTION}\n")
    return 0


def _chosen(airplane: AirplaneTrends, name: str | None) -> AirplaneTrends:
    if name is None:
        return airplane
    found = tuple(trend for trend in airplane.trends if trend.series.name == name)
    if not found:
        known = ", ".join(trend.series.name for trend in airplane.trends)
        raise UsageError(f'no series "{name}" of {airplane.registration}; it has: {known}')
    return AirplaneTrends(airplane.registration, found, airplane.is_invented)


def _charts(airplane: AirplaneTrends, folder: Path, suffix: str) -> list[Path]:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise UsageError(f"cannot write to {folder}: {error.strerror}") from None
    title = f"{airplane.registration}{' (invented)' if airplane.is_invented else ''}"
    written = []
    for trend in airplane.trends:
        if trend.points:
            path = folder / f"{re.sub(r'[^a-z0-9]+', '-', trend.series.name.lower()).strip('-')}.{suffix}"
            draw_trend(trend, path, title)
            written.append(path)
    return written
