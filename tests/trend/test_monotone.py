import random

import pymannkendall
import pytest
from scipy.stats import kendalltau, theilslopes

from runner.trend.monotone import mann_kendall, theil_sen
from tests.trend.published import SODIUM, SODIUM_TIMES, SULFATE, SULFATE_TIMES


def test_the_long_example_of_the_guidance_is_reproduced() -> None:
    """EPA 530/R-09-007 example 17-6: S, its variance with ties, z, p and tau."""
    test = mann_kendall(SULFATE_TIMES, SULFATE)
    assert (test.count, test.s, test.variance) == (23, 194, 1428.0)
    assert round(test.z, 6) == 5.107322
    assert f"{test.p:.6e}" == "3.267574e-07"
    assert round(test.tau, 7) == 0.7667984


def test_the_slope_of_the_long_example_is_reproduced() -> None:
    """EPA 530/R-09-007 example 17-6: slope, Conover's intercept, Gilbert's interval."""
    slope = theil_sen(SULFATE_TIMES, SULFATE)
    assert round(slope.slope, 7) == 26.6666667
    assert round(slope.intercept, 7) == -1909.3333333
    assert slope.lower is not None
    assert slope.upper is not None
    assert (round(slope.lower, 5), round(slope.upper, 5)) == (20.0, 35.71182)


def test_the_short_example_of_the_guidance_is_reproduced() -> None:
    """EPA 530/R-09-007 example 17-7: significant at 5 %, not at 1 %."""
    test, slope = mann_kendall(SODIUM_TIMES, SODIUM), theil_sen(SODIUM_TIMES, SODIUM)
    assert (test.count, test.s, test.variance) == (10, 25, 125.0)
    assert (round(test.z, 6), round(test.p, 8), round(test.tau, 7)) == (2.146625, 0.03182313, 0.5555556)
    assert (round(slope.slope, 7), round(slope.intercept, 7)) == (1.3333333, -65.9666667)
    assert slope.lower is not None
    assert slope.upper is not None
    assert (round(slope.lower, 7), round(slope.upper, 7)) == (0.3992083, 2.3333333)


def test_pymannkendall_agrees_on_the_test() -> None:
    """On S, its variance, z and p of both published examples."""
    for times, values in ((SULFATE_TIMES, SULFATE), (SODIUM_TIMES, SODIUM)):
        other, ours = pymannkendall.original_test(values), mann_kendall(times, values)
        assert (other.s, other.var_s) == (ours.s, ours.variance)
        assert (other.z, other.p) == pytest.approx((ours.z, ours.p), abs=1e-12)


def test_pymannkendall_differs_on_the_slope_because_it_takes_samples_for_time() -> None:
    """9.444444 per sample instead of 26.666667 per year; on even times the two agree."""
    other = pymannkendall.sens_slope(SULFATE)
    assert other.slope == pytest.approx(9.444444, abs=1e-6)
    assert theil_sen(range(len(SULFATE)), SULFATE).slope == pytest.approx(other.slope)


def test_scipy_agrees_on_the_slope_and_the_intercept() -> None:
    """`theilslopes` on the published examples, its intercept through the medians."""
    for times, values in ((SULFATE_TIMES, SULFATE), (SODIUM_TIMES, SODIUM)):
        other, ours = theilslopes(values, times), theil_sen(times, values)
        assert (other.slope, other.intercept) == pytest.approx((ours.slope, ours.intercept))


def test_scipy_differs_on_the_interval_because_it_does_not_interpolate_ranks() -> None:
    """35.84906 and 0.454545 where the guidance has 35.71182 and 0.3992083."""
    assert theilslopes(SULFATE, SULFATE_TIMES).high_slope == pytest.approx(35.84906, abs=1e-5)
    assert theilslopes(SODIUM, SODIUM_TIMES).low_slope == pytest.approx(0.454545, abs=1e-6)


def test_scipy_differs_on_tau_because_it_corrects_it_for_ties() -> None:
    """tau-b 0.77449 where the guidance has 0.7667984; without ties the two are one."""
    assert kendalltau(SULFATE_TIMES, SULFATE).statistic == pytest.approx(0.77449, abs=1e-5)
    values = [3.0, 1.0, 4.0, 1.5, 5.0, 9.0]
    assert mann_kendall(range(6), values).tau == pytest.approx(kendalltau(range(6), values).statistic)


def test_ties_in_time_and_in_value_give_the_p_of_scipy_but_for_the_continuity_correction() -> None:
    """`kendalltau` with method asymptotic tests S without correcting it by one."""
    chance = random.Random(5)  # noqa: S311 - test data
    for _ in range(20):
        times = [float(chance.randint(0, 12)) for _ in range(25)]
        values = [float(chance.randint(0, 9)) for _ in range(25)]
        ours = mann_kendall(times, values)
        plain = ours.s / ours.variance**0.5
        other = kendalltau(times, values, method="asymptotic").pvalue
        assert mann_kendall(times, values).variance > 0
        assert other == pytest.approx(_two_sided(plain), rel=1e-9)


def _two_sided(z: float) -> float:
    from statistics import NormalDist  # noqa: PLC0415 - beside its use

    return 2 * NormalDist().cdf(-abs(z))


def test_a_slope_needs_two_times() -> None:
    """Two runs at one time, one run, and lists of different length."""
    with pytest.raises(ValueError, match="all points have one time"):
        theil_sen([1.0, 1.0], [2.0, 3.0])
    with pytest.raises(ValueError, match="two points"):
        mann_kendall([1.0], [2.0])
    with pytest.raises(ValueError, match="2 times for 1 values"):
        theil_sen([1.0, 2.0], [2.0])


def test_too_few_pairs_leave_the_interval_open() -> None:
    """Three points have three slopes: the interval's ranks lie outside of them."""
    slope = theil_sen([0.0, 1.0, 2.0], [0.0, 1.0, 2.0])
    assert (slope.slope, slope.lower, slope.upper) == (1.0, None, None)


def test_values_that_never_change_have_no_trend() -> None:
    """The variance is zero, and so is z; p is 1."""
    test = mann_kendall([1.0, 2.0, 3.0], [5.0, 5.0, 5.0])
    assert (test.s, test.variance, test.z, test.p) == (0, 0.0, 0.0, 1.0)
