import random

import numpy as np
import pytest
from scipy.stats import linregress

from runner.trend.covariate import FREEDOM, TemperatureLine, temperatures


def _line(xs: list[float], ys: list[float]) -> TemperatureLine:
    line = TemperatureLine()
    for x, y in zip(xs, ys, strict=True):
        line = line.with_point(x, y)
    return line


def _data(count: int = 20) -> tuple[list[float], list[float]]:
    chance = random.Random(3)  # noqa: S311 - test data
    xs = [chance.uniform(-15, 25) for _ in range(count)]
    return xs, [45.0 - 0.3 * x + chance.gauss(0, 1) for x in xs]


def test_slope_and_level_are_those_of_least_squares() -> None:
    """scipy.stats.linregress on the same points."""
    xs, ys = _data()
    line, other = _line(xs, ys), linregress(xs, ys)
    assert line.slope == pytest.approx(other.slope)
    assert line.at(4.0) == pytest.approx(other.intercept + 4.0 * other.slope)


def test_the_error_of_a_prediction_is_the_textbooks() -> None:
    """The scatter times the root of 1 + x'(X'X)^-1 x, by numpy's matrices."""
    xs, ys = _data()
    expected = _line(xs, ys).expect(-30.0, floor=0.0)
    matrix, new = np.column_stack([np.ones(20), xs]), np.array([1.0, -30.0])
    left = np.array(ys) - matrix @ np.linalg.lstsq(matrix, np.array(ys), rcond=None)[0]
    scatter = float(left @ left / 18) ** 0.5
    reach = float(new @ np.linalg.inv(matrix.T @ matrix) @ new)
    assert expected is not None
    assert expected.error == pytest.approx(scatter * (1 + reach) ** 0.5)
    assert expected.freedom == 18


def test_a_point_taken_back_leaves_the_line_as_it_was() -> None:
    """What alarms must not stay learned."""
    xs, ys = _data()
    line = _line(xs, ys)
    back = line.with_point(99.0, 99.0).with_point(99.0, 99.0, weight=-1)
    assert (back.count, back.slope, back.at(3.0)) == pytest.approx((20, line.slope, line.at(3.0)))


def test_nothing_is_expected_from_too_few_points() -> None:
    """Two parameters and five degrees of freedom."""
    xs, ys = _data()
    assert _line(xs[: FREEDOM + 1], ys[: FREEDOM + 1]).expect(0.0, floor=0.0) is None
    assert _line(xs[: FREEDOM + 2], ys[: FREEDOM + 2]).expect(0.0, floor=0.0) is not None


def test_one_temperature_gives_a_level_and_no_slope() -> None:
    """As when no temperatures are known."""
    line = _line([0.0] * 8, [float(value) for value in range(8)])
    assert (line.has_slope, line.slope, line.at(20.0)) == (False, 0.0, 3.5)


def test_values_without_scatter_are_believed_to_that_of_their_rounding() -> None:
    """Eight equal readings do not make the ninth impossible."""
    expected = _line([0.0] * 8, [24.6] * 8).expect(0.0, floor=0.029)
    assert expected is not None
    assert expected.error == pytest.approx(0.029 * (1 + 1 / 8) ** 0.5)


def test_temperatures_stand_about_their_mean_and_a_missing_one_at_it() -> None:
    """Three of four known are enough, fewer are none."""
    assert temperatures([10.0, 20.0, None, 30.0]) == (-10.0, 0.0, 0.0, 10.0)
    assert temperatures([10.0, None, None, 30.0]) == (0.0,) * 4


def test_temperatures_count_when_three_of_four_runs_have_one() -> None:
    """Of eight runs six are enough and five are not; a run without one stands at the mean."""
    assert temperatures([1.0, 3.0, 1.0, 3.0, 1.0, 3.0, None, None]) == (-1, 1, -1, 1, -1, 1, 0, 0)
    assert temperatures([1.0, 3.0, 1.0, 3.0, 1.0, None, None, None]) == (0.0,) * 8
