"""Shares and their ranges, held against scipy."""

import pytest
from scipy import stats

from runner.voice.lesson.share import Share, get_sign_chance


@pytest.mark.parametrize(("count", "tries"), [(0, 17), (1, 17), (3, 17), (17, 17), (2, 3), (19, 20)])
def test_the_range_is_wilsons(count: int, tries: int) -> None:
    """scipy.stats.binomtest(...).proportion_ci(method="wilson")."""
    interval = stats.binomtest(count, tries).proportion_ci(method="wilson")
    assert Share(count, tries).bounds == pytest.approx((interval.low, interval.high), abs=1e-12)


def test_without_tries_every_share_fits() -> None:
    """Nothing was seen, so nothing is known."""
    assert Share(0, 0).bounds == (0.0, 1.0)
    assert Share(0, 0).expected == 0.5


@pytest.mark.parametrize(("count", "tries"), [(0, 17), (5, 17), (17, 17)])
def test_what_to_expect_is_the_mean_of_the_posterior(count: int, tries: int) -> None:
    """Of scipy's beta distribution, over a flat prior."""
    assert Share(count, tries).expected == pytest.approx(stats.beta(1 + count, 1 + tries - count).mean())


@pytest.mark.parametrize(("more", "fewer"), [(5, 0), (4, 0), (7, 1), (3, 3), (0, 4), (0, 0)])
def test_the_sign_test_is_the_exact_one(more: int, fewer: int) -> None:
    """scipy.stats.binomtest, one-sided; with no difference at all the chance is 1."""
    exact = stats.binomtest(more, more + fewer, alternative="greater").pvalue if more + fewer else 1.0
    assert get_sign_chance(more, fewer) == pytest.approx(exact)
