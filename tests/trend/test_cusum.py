from collections.abc import Sequence
from itertools import accumulate

import pytest

from runner.trend.score import Sums
from tests.trend.published import CUSUM_DATA, CUSUM_HIGH, CUSUM_LOW


def _sums(values: Sequence[float], target: float, allowance: float, head_start: float = 0.0) -> list[Sums]:
    """The sums after each value."""
    first = Sums(head_start, head_start)
    return list(accumulate(values, lambda sums, value: sums.after(value - target, allowance), initial=first))[
        1:
    ]


def _first_above(sums: Sequence[float], decision: float) -> int | None:
    return next((at for at, value in enumerate(sums) if value > decision), None)


def test_the_sums_reproduce_the_handbook() -> None:
    """NIST/SEMATECH e-Handbook 6.3.2.3: target 325, k 0.3175, h 4.1959, to its two decimals."""
    sums = _sums(CUSUM_DATA, 325.0, 0.3175)
    assert [each.high for each in sums] == pytest.approx(CUSUM_HIGH, abs=0.0051)
    assert [each.low for each in sums] == pytest.approx(CUSUM_LOW, abs=0.0051)


def test_the_signal_comes_at_the_fourteenth_value_and_upward_only() -> None:
    """NIST 6.3.2.3, as above."""
    sums = _sums(CUSUM_DATA, 325.0, 0.3175)
    assert _first_above([each.high for each in sums], 4.1959) == 14 - 1
    assert _first_above([each.low for each in sums], 4.1959) is None


def test_values_turned_upside_down_swap_the_sums() -> None:
    """The chart has no favourite side."""
    plain = _sums(CUSUM_DATA, 325.0, 0.3175)
    turned = _sums([650.0 - value for value in CUSUM_DATA], 325.0, 0.3175)
    assert [each.low for each in turned] == pytest.approx([each.high for each in plain])
    assert [each.high for each in turned] == pytest.approx([each.low for each in plain])


def test_a_head_start_finds_a_process_sooner_that_is_off_from_the_beginning() -> None:
    """Lucas and Crosier 1982: begin at half the decision limit."""
    values = [11.0] * 20
    late = _first_above([each.high for each in _sums(values, 10.0, 0.5)], 5.0)
    soon = _first_above([each.high for each in _sums(values, 10.0, 0.5, head_start=2.5)], 5.0)
    assert (late, soon) == (10, 5)


def test_no_sum_grows_beyond_the_highest_that_is_allowed() -> None:
    """So that the way back is short."""
    assert Sums(8.0, 0.0).after(5.0, 0.5, highest=9.0) == Sums(9.0, 0.0)
