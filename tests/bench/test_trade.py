"""Comparing ears at the same share of wrong answers."""

import pytest

from tests.bench.ear.trade import Judged, shares, threshold_for

PLACE = ("words", "quiet")


def _judged(*scores: tuple[float, bool]) -> list[Judged]:
    return [Judged(PLACE, score, has_text=True, is_right=is_right) for score, is_right in scores]


def test_the_threshold_lets_through_no_more_wrong_answers_than_allowed() -> None:
    """Four utterances and a quarter allowed: the second wrong one (0.6) must be out, so 0.7 is the lowest."""
    found = _judged((0.9, True), (0.8, False), (0.7, True), (0.6, False))
    assert threshold_for(found, 0.25) == 0.7


def test_equal_scores_are_taken_or_refused_together() -> None:
    """A right one that is no surer than the wrong one goes with it."""
    found = _judged((0.9, True), (0.5, False), (0.5, True))
    assert threshold_for(found, 0.0) == 0.9


def test_with_few_wrong_answers_all_are_taken() -> None:
    """The lowest score is the threshold."""
    assert threshold_for(_judged((0.9, True), (0.1, False)), 0.5) == 0.1


def test_an_ear_whose_surest_answer_is_wrong_takes_nothing() -> None:
    """When none may be wrong."""
    assert threshold_for(_judged((0.9, False), (0.8, True)), 0.0) == float("inf")


def test_shares_are_of_all_utterances_of_a_set() -> None:
    """One right, one wrong, one below the threshold, one refused."""
    found = [
        *_judged((0.9, True), (0.8, False), (0.2, True)),
        Judged(PLACE, 1.0, has_text=False, is_right=False),
    ]
    assert shares(found, 0.5)[PLACE] == pytest.approx((4, 25.0, 25.0))
