import pytest

from runner.trend.individuals import individuals
from tests.trend.published import FLOW_RATES


def test_the_chart_reproduces_the_handbook() -> None:
    """NIST/SEMATECH e-Handbook 6.3.2.2: mean, mean moving range and limits."""
    chart = individuals(FLOW_RATES)
    assert round(chart.mean, 2) == 50.81
    assert round(chart.mean_range, 4) == 1.8778
    assert (round(chart.lower, 4), round(chart.upper, 4)) == (45.8159, 55.8041)


def test_the_ranges_are_those_of_the_handbook() -> None:
    """NIST/SEMATECH e-Handbook 6.3.2.2, its column of moving ranges."""
    chart = individuals(FLOW_RATES)
    assert [round(each, 1) for each in chart.ranges] == [2.0, 2.3, 1.4, 3.5, 3.4, 1.4, 0.2, 1.2, 1.5]


def test_one_value_has_no_range() -> None:
    """A moving range needs two."""
    with pytest.raises(ValueError, match="two values"):
        individuals([1.0])
