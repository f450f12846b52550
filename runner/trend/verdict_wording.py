"""A verdict in plain words: one line for a table, one sentence to be spoken at the end of a run."""

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime
from typing import Final

from runner.language.digit import spell
from runner.trend.drift import FEWEST
from runner.trend.judged_series import Trend
from runner.trend.reach import Reach
from runner.trend.series import MONTH, Quantity
from runner.trend.verdict import Sign, Steadiness, TrendVerdict

FAR: Final = 60 * MONTH
"""A limit further off than this is not dated: no drift stays straight for so long."""

WAYS: Final = {
    Quantity.SPIN_UP: ("longer", "shorter"),
    Quantity.READING: ("higher", "lower"),
    Quantity.SAG: ("more", "less"),
    Quantity.RESISTANCE: ("higher", "lower"),
    Quantity.RESPONSE: ("slower", "faster"),
}
"""How a value that grew, and one that shrank, is called."""


def month_of(at: float) -> str:
    """`May 2027`, UTC."""
    return datetime.fromtimestamp(at, UTC).strftime("%B %Y")


def day_of(at: float) -> str:
    """`2027-05-04`, UTC."""
    return datetime.fromtimestamp(at, UTC).strftime("%Y-%m-%d")


def way(quantity: Quantity, move: float) -> str:
    """Which way a value moved, in the words of what it measures; `move` in any unit, its sign counts."""
    return WAYS[quantity][0 if move >= 0 else 1]


def figure(value: float, unit: str) -> str:
    """A size with its unit, to a tenth; what is smaller than a tenth keeps two decimals more."""
    decimals = 1 if abs(value) >= 1 else 2
    return f"{abs(value):.{decimals}f} {unit}"


def line(trend: Trend) -> str:
    """The verdict in full, for a table."""
    verdict = trend.verdict
    if verdict.state is Steadiness.TOO_FEW:
        return f"too few runs to tell: {verdict.runs} of at least {FEWEST}{_anew(trend)}"
    if verdict.state is Steadiness.STEADY:
        return f"steady over {verdict.runs} runs{_anew(trend)}"
    words = _drift_line(trend) if verdict.state is Steadiness.DRIFTING else _out_line(trend)
    return words + ("" if trend.is_weather_known else "; no temperatures on record, weather may be why")


def _anew(trend: Trend) -> str:
    since = trend.baseline.since
    return "" if since is None else f" since {since.what} on {day_of(since.at)}"


def _drift_line(trend: Trend) -> str:
    verdict, series = trend.verdict, trend.series
    slope = verdict.per_month or 0.0
    parts = [f"drifting since {day_of(verdict.since or 0.0)}: {_a_month(trend)}{_interval(verdict)}"]
    if verdict.reach is not None:
        parts.append(_reach_words(verdict.reach, trend))
    elif series.limits.low is not None or series.limits.high is not None:
        parts.append(f"no limit lies on the {way(series.quantity, slope)} side")
    return "; ".join(parts)


def _a_month(trend: Trend) -> str:
    slope = trend.verdict.per_month or 0.0
    return f"{figure(slope, trend.series.unit)} a month {way(trend.series.quantity, slope)}"


def _interval(verdict: TrendVerdict) -> str:
    low, high = verdict.per_month_low, verdict.per_month_high
    if low is None or high is None:
        return " (too few runs for an interval)"
    if (verdict.per_month or 0.0) < 0:
        low, high = -high, -low
    return f" (95 %: {low:.2f} to {high:.2f})"


def _is_passed(reach: Reach, trend: Trend) -> bool:
    """By the line of the drift or, before that line is there, by the last value alone."""
    last, rises = trend.points[-1], (trend.verdict.per_month or 0.0) > 0
    return reach.about <= last.at or (last.value > reach.limit if rises else last.value < reach.limit)


def _reach_words(reach: Reach, trend: Trend) -> str:
    now, limit = trend.points[-1].at, f"limit of {reach.limit:g} {trend.series.unit}"
    if _is_passed(reach, trend):
        return f"{limit} is passed now"
    if reach.about - now > FAR:
        return f"{limit} is more than five years away"
    latest = "open" if reach.latest is None or reach.latest - now > FAR else month_of(reach.latest)
    return f"{limit} about {month_of(reach.about)} ({month_of(reach.earliest)} to {latest})"


def _out_line(trend: Trend) -> str:
    verdict, series = trend.verdict, trend.series
    moved = f"{figure(verdict.moved_by or 0.0, series.unit)} {way(series.quantity, verdict.moved_by or 0.0)}"
    if verdict.sign is Sign.RUN:
        return f"out of control: the last run is {moved} than usual"
    since = day_of(verdict.since or 0.0)
    return f"out of control: {moved} than usual since {since}; if work was done then, record it"


def spoken(trends: Iterable[Trend]) -> str | None:
    """One sentence on what moved, the most pressing first; None when nothing did."""
    moved = sorted((trend for trend in trends if trend.verdict.has_moved), key=_pressing)
    if any(trend.series.quantity is Quantity.RESISTANCE for trend in moved):
        moved = [trend for trend in moved if trend.series.quantity is not Quantity.SAG]  # said once
    if not moved:
        return None
    return f"{_spoken_of(moved[0])}{_others(moved)}."


def _pressing(trend: Trend) -> tuple[bool, float]:
    """A limit that is passed first, then the nearest, then what has no date."""
    reach = trend.verdict.reach
    if reach is None:
        return (True, 0.0)
    return (False, 0.0 if _is_passed(reach, trend) else reach.about)


def _spoken_of(trend: Trend) -> str:
    verdict, series = trend.verdict, trend.series
    name = f"{series.name[:1].upper()}{series.name[1:]}"
    move = verdict.moved_by if verdict.per_month is None else verdict.per_month
    size = f"{spell(figure(move or 0.0, '').strip())} {series.unit}"
    direction = way(series.quantity, move or 0.0)
    if verdict.state is Steadiness.OUT_OF_CONTROL:
        when = "in this run" if verdict.sign is Sign.RUN else "for some runs now"
        return f"{name}, {size} {direction} than usual {when}"
    return f"{name}, {size} a month {direction}{_spoken_reach(trend)}"


def _spoken_reach(trend: Trend) -> str:
    reach, now = trend.verdict.reach, trend.points[-1].at
    if reach is None or reach.about - now > FAR:
        return ""
    if _is_passed(reach, trend):
        return ", past its limit"
    months = round((reach.about - now) / MONTH)
    return ", limit reached in about " + ("a month" if months <= 1 else f"{spell(str(months))} months")


def _others(moved: Sequence[Trend]) -> str:
    more = len(moved) - 1
    if more == 0:
        return ""
    return ", and one more has moved" if more == 1 else f", and {spell(str(more))} more have moved"
