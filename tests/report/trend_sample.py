"""Trends of an invented airplane for the reports' tests."""

from runner.report.fleet.airplane_trend import AirplaneTrends
from runner.trend.judged_series import trend_of
from runner.trend.series import Series
from tests.trend.sample import gyro, rise


def one(series: Series) -> AirplaneTrends:
    """An airplane with one series."""
    return AirplaneTrends("QQ-ZZZ", (trend_of(series),), is_invented=True)


def drifting() -> Series:
    """A gyro that slows from run 20 on, on mornings of different warmth."""
    return gyro(36, added=rise(20, 1.0), celsius=lambda run: float(run * 7 % 23) - 5.0)
