from collections.abc import Sequence

import pytest

from runner.trend.ewma import ewma
from tests.trend.published import EWMA_AVERAGES, EWMA_DATA


def _outside(values: Sequence[float], sigma: float) -> list[int]:
    """Places of the averages outside their limits around 50."""
    chart = ewma(values, 50.0, sigma)
    rows = zip(chart.averages, chart.lower, chart.upper, strict=True)
    return [at for at, (value, low, high) in enumerate(rows) if not low <= value <= high]


def test_the_averages_reproduce_the_handbook() -> None:
    """NIST/SEMATECH e-Handbook 6.3.2.4, to its two decimals (it cuts 50.185 and 49.925)."""
    averages = ewma(EWMA_DATA, 50.0, 2.0539).averages
    assert averages == pytest.approx(EWMA_AVERAGES, abs=0.0051)


def test_the_settled_limits_reproduce_the_handbook() -> None:
    """NIST 6.3.2.4 prints 52.5884 and 47.4115; it cuts the lower one, which is 47.41157."""
    chart = ewma([50.0] * 200, 50.0, 2.0539)
    assert round(chart.upper[-1], 4) == 52.5884
    assert int(chart.lower[-1] * 10_000) == 474_115
    assert _outside(EWMA_DATA, 2.0539) == []


def test_the_first_limits_are_exact_for_a_short_history() -> None:
    """Montgomery equation 9.25 (from memory; not in NIST): half widths of the first three, by calculation."""
    halves = [upper - 50.0 for upper in ewma(EWMA_DATA, 50.0, 2.0539).upper[:3]]
    assert [round(half, 5) for half in halves] == [1.84851, 2.25639, 2.43141]


def test_the_exact_limits_grow_into_the_settled_ones() -> None:
    """After many values the two are one."""
    chart = ewma([50.0] * 60, 50.0, 2.0)
    assert list(chart.upper) == sorted(chart.upper)
    settled = 3 * 2.0 * (0.3 / 1.7) ** 0.5
    assert (chart.lower[-1], chart.upper[-1]) == pytest.approx((50.0 - settled, 50.0 + settled))


def test_a_level_that_moved_leaves_the_limits() -> None:
    """Two standard deviations up show at the second such value: 0.51 x 4 passes 1.96."""
    assert _outside([50.0, 54.0, 54.0, 54.0], 2.0) == [3]


def test_a_weight_outside_of_its_range_is_refused() -> None:
    """No weight, or more than all."""
    for weight in (0.0, 1.1):
        with pytest.raises(ValueError, match="outside 0 to 1"):
            ewma([1.0], 1.0, 1.0, weight=weight)
