"""The verdict on a series, as data: too few runs to tell, steady, drifting, or out of control."""

from dataclasses import dataclass
from enum import StrEnum

from runner.trend.reach import Reach


class Steadiness(StrEnum):
    """The verdict in a word."""

    TOO_FEW = "too few runs"
    STEADY = "steady"
    DRIFTING = "drifting"
    OUT_OF_CONTROL = "out of control"


class Sign(StrEnum):
    """What the verdict rests on."""

    NONE = "none"
    SUM = "cumulative sum"
    TREND = "Mann-Kendall"
    RUN = "one run"


@dataclass(frozen=True, slots=True)
class TrendVerdict:
    """What is said of a series as of its last run. Values have the series' unit, times are epoch seconds."""

    state: Steadiness
    sign: Sign
    runs: int
    """Runs since the last maintenance, at most the recent ones that are looked at."""
    latest: float | None
    """The last value, as it would be at the mean temperature; None without any."""
    usual: float | None = None
    """The normal level at the mean temperature; None while it is not known."""
    since: float | None = None
    """The first run that is off."""
    moved_by: float | None = None
    """How far the level now, or the one run, is from where it was."""
    per_month: float | None = None
    """Of a drift; the ends of its 95 % interval follow, None where too few runs give no end."""
    per_month_low: float | None = None
    per_month_high: float | None = None
    reach: Reach | None = None
    """When a drift meets the limit ahead of it; None when there is none."""

    @property
    def has_moved(self) -> bool:
        """Whether there is something to tell."""
        return self.state in (Steadiness.DRIFTING, Steadiness.OUT_OF_CONTROL)
