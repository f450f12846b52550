"""Bars: width, filling, marks."""

from hypothesis import given
from hypothesis import strategies as st

from runner.screen.full.bar import EMPTY, FULL, MARK, bar


@given(share=st.floats(-1, 3), width=st.integers(1, 120), mark=st.floats(0, 1))
def test_a_bar_is_as_wide_as_asked_and_fills_from_the_left(share: float, width: int, mark: float) -> None:
    """Full cells, then empty ones with at most one mark among them."""
    drawn = bar(share, width, (mark,))
    assert len(drawn) == width
    assert drawn.lstrip(FULL).count(FULL) == 0
    assert drawn.count(MARK) <= 1
    assert drawn.count(FULL) == round(min(max(share, 0), 1) * width)


def test_a_mark_stands_at_its_share() -> None:
    """Advise at half of the limit, a quarter gone."""
    assert bar(0.25, 8, (0.5,)) == FULL * 2 + EMPTY * 2 + MARK + EMPTY * 3


def test_a_mark_that_was_passed_is_filled_over() -> None:
    """Past the mark the bar says so by its length."""
    assert MARK not in bar(0.75, 8, (0.5,))
