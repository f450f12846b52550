import pytest

from runner.trend.cusum import Sums, cusum
from tests.trend.published import CUSUM_DATA, CUSUM_HIGH, CUSUM_LOW


def test_the_sums_reproduce_the_handbook() -> None:
    """NIST/SEMATECH e-Handbook 6.3.2.3: target 325, k 0.3175, h 4.1959, to its two decimals."""
    chart = cusum(CUSUM_DATA, 325.0, allowance=0.3175, decision=4.1959)
    assert chart.high == pytest.approx(CUSUM_HIGH, abs=0.0051)
    assert chart.low == pytest.approx(CUSUM_LOW, abs=0.0051)


def test_the_signal_comes_at_the_fourteenth_value_and_upward_only() -> None:
    """NIST 6.3.2.3, as above."""
    chart = cusum(CUSUM_DATA, 325.0, allowance=0.3175, decision=4.1959)
    assert chart.first_high == 14 - 1
    assert chart.first_low is None


def test_values_turned_upside_down_swap_the_sums() -> None:
    """The chart has no favourite side."""
    plain = cusum(CUSUM_DATA, 325.0, allowance=0.3175, decision=4.1959)
    turned = cusum([650.0 - value for value in CUSUM_DATA], 325.0, allowance=0.3175, decision=4.1959)
    assert turned.low == pytest.approx(plain.high)
    assert turned.high == pytest.approx(plain.low)


def test_a_head_start_finds_a_process_sooner_that_is_off_from_the_beginning() -> None:
    """Lucas and Crosier 1982: begin at half the decision limit."""
    values = [11.0] * 20
    late = cusum(values, 10.0, allowance=0.5, decision=5.0).first_high
    soon = cusum(values, 10.0, allowance=0.5, decision=5.0, head_start=2.5).first_high
    assert (late, soon) == (10, 5)


def test_no_sum_grows_beyond_its_cap() -> None:
    """So that the way back is short."""
    assert Sums(8.0, 0.0).after(5.0, 0.5, cap=9.0) == Sums(9.0, 0.0)
