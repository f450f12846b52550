"""The one place that imports Jinja: templates of `page/` with the filters that put a report into words."""

import base64
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Final

from jinja2 import Environment, FunctionLoader, StrictUndefined
from markupsafe import Markup

from runner.language.catalogue import STANDING_CAUTION
from runner.logbook.list.entry_wording import moment, since
from runner.report.draw.paper_sheet import POINTER
from runner.report.draw.stamp import both_stamps, duration_words, utc_stamp
from runner.report.origin import Maker
from runner.report.run import run_wording as wording
from runner.report.run.run_item import RunItem, SpinUpTime
from runner.report.run.run_report import Clip
from runner.report.run.spin_up_chart import spin_up_chart
from runner.report.trend.strip_chart import KEY, strip_chart
from runner.trend.drift import FEWEST
from runner.trend.judged_series import Trend
from runner.trend.series import Quantity
from runner.trend.verdict import Steadiness
from runner.trend.verdict_wording import line
from runner.visible import visible_lines

FOLDER: Final = files("runner.report.draw") / "page"

MEDIA: Final[Mapping[str, str]] = {
    "wav": "audio/wav",
    "flac": "audio/flac",
    "mp3": "audio/mpeg",
    "ogg": "audio/ogg",
    "opus": "audio/ogg",
    "m4a": "audio/mp4",
}
"""What a browser is told of a clip, by the suffix of its name (IANA media types)."""


def render(template: str, maker: Maker, **context: object) -> str:
    """A whole page: one HTML file that fetches nothing."""
    page = _environment().get_template(template)
    style = Markup((FOLDER / "report.css").read_text(encoding="utf-8").strip())  # noqa: S704 - our own file
    text = page.render(
        maker=maker,
        style=style,
        caution=STANDING_CAUTION,
        chart_key=KEY,
        fewest=FEWEST,
        pointer=POINTER,
        **context,
    )
    return re.sub(r"\n\s*\n+", "\n", text)


@cache
def _environment() -> Environment:
    """Everything is escaped but our own drawings, so that no name or note can become markup."""
    environment = Environment(
        loader=FunctionLoader(_source),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_shown,
    )
    environment.filters.update(FILTERS)
    return environment


def _shown(value: object) -> object:
    """Words without anything that steers a page; our own drawings have seen to theirs."""
    return visible_lines(value) if isinstance(value, str) and not isinstance(value, Markup) else value


def _source(name: str) -> str:
    return (FOLDER / name).read_text(encoding="utf-8")


@dataclass(frozen=True, slots=True)
class Group:
    """The items of one section."""

    title: str
    items: tuple[RunItem, ...]


def groups(items: Iterable[RunItem]) -> Iterator[Group]:
    """Items by section, in their order."""
    by_title: dict[str, list[RunItem]] = {}
    for item in items:
        by_title.setdefault(item.section, []).append(item)
    for title, found in by_title.items():
        yield Group(title, tuple(found))


def data_uri(clip: Clip) -> str:
    """A sound clip as part of the page (RFC 2397)."""
    media = MEDIA.get(clip.name.rpartition(".")[2], "application/octet-stream")
    return f"data:{media};base64,{base64.b64encode(clip.content).decode()}"


def _strip(trend: Trend, run: str) -> Markup:
    return Markup(strip_chart(trend, run))  # noqa: S704 - its words are escaped where they are drawn


def _spin_ups(times: tuple[SpinUpTime, ...]) -> Markup:
    return Markup(spin_up_chart(times))  # noqa: S704 - as above


def _drawable(trends: Iterable[Trend]) -> tuple[Trend, ...]:
    """Those with enough runs."""
    return tuple(trend for trend in trends if trend.points and trend.verdict.state is not Steadiness.TOO_FEW)


def _moved(trends: Iterable[Trend]) -> tuple[Trend, ...]:
    """Those that have moved."""
    return tuple(trend for trend in trends if trend.verdict.has_moved)


def _telling(trends: Iterable[Trend]) -> tuple[Trend, ...]:
    """The gyros, and whatever has moved: the rest is told in words, to leave room on two sheets."""
    return tuple(
        trend
        for trend in _drawable(trends)
        if trend.verdict.has_moved or trend.series.quantity is Quantity.SPIN_UP
    )


FILTERS: Final[Mapping[str, Callable[..., Any]]] = {
    "answer": wording.answer_words,
    "left_moved_words": wording.left_moved_words,
    "battery_words": wording.battery_words,
    "counted": wording.counted,
    "data_uri": data_uri,
    "drawable": _drawable,
    "duration": duration_words,
    "groups": groups,
    "haste_words": wording.haste_words,
    "both": both_stamps,
    "moment": moment,
    "moved": _moved,
    "moved_words": wording.moved_words,
    "open_words": wording.open_words,
    "recurrence_words": wording.recurrence_words,
    "remark_words": wording.remark_words,
    "result_words": wording.result_words,
    "run_words": wording.run_words,
    "since": since,
    "spin_up_chart": _spin_ups,
    "squawk_words": wording.squawk_words,
    "state_words": lambda state: wording.STATES[state],
    "steady_words": wording.steady_words,
    "strip_chart": _strip,
    "telling": _telling,
    "utc": utc_stamp,
    "verdict": line,
}
"""Each turns data into the words or the drawing of a report."""
