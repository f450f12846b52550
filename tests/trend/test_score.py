import random

import pytest
from scipy.stats import norm
from scipy.stats import t as student

from runner.trend.score import BOUND, CAP, DECISION, normal_score, watch


def _noise(count: int, seed: int = 2) -> list[float]:
    chance = random.Random(seed)  # noqa: S311 - test data
    return [50.0 + chance.gauss(0, 2) for _ in range(count)]


@pytest.mark.parametrize("freedom", [5, 10, 30, 200])
def test_the_normal_number_is_as_likely_as_the_t_value(freedom: int) -> None:
    """Wallace 1959 against scipy's exact distributions: within 0.05 up to four standard deviations."""
    for wanted in (0.5, 1.0, 2.0, 3.0, 4.0):
        t = float(student.isf(norm.sf(wanted), freedom))
        assert normal_score(t, freedom) == pytest.approx(wanted, abs=0.05)
        assert normal_score(-t, freedom) == -normal_score(t, freedom)


def test_scores_of_steady_values_are_standard_normal_from_the_first_runs_on() -> None:
    """Self-starting (Hawkins 1987): mean 0, spread 1, over 300 histories' sixth to fifteenth scores."""
    seen = [watch(_noise(15, seed), [0.0] * 15).scores for seed in range(300)]
    scores = [score for one in seen for score in one if score is not None]
    assert len(scores) == 300 * 9
    mean = sum(scores) / len(scores)
    assert abs(mean) < 4 / len(scores) ** 0.5
    assert sum(score * score for score in scores) / len(scores) == pytest.approx(1.0, abs=0.12)


def test_a_steady_series_has_not_moved() -> None:
    """All runs are learned."""
    seen = watch(_noise(60), [0.0] * 60)
    assert seen.moved_from is None
    assert seen.learned == tuple(range(60))
    assert max(*seen.high, *seen.low) < DECISION


@pytest.mark.parametrize("sign", [1, -1])
def test_a_step_is_found_its_start_named_and_nothing_of_it_learned(sign: int) -> None:
    """Three standard deviations for fifteen runs, up or down."""
    values = _noise(30) + [value + sign * 6.0 for value in _noise(15, seed=9)]
    seen = watch(values, [0.0] * 45)
    assert seen.moved_from is not None
    assert 27 <= seen.moved_from <= 33
    assert max(seen.learned) < seen.moved_from
    assert values[0] + seen.line.at(0.0) == pytest.approx(50.0, abs=1.0)


def test_a_return_to_normal_ends_the_move() -> None:
    """No sum grows beyond its cap, so ten normal runs are enough; then they are learned again."""
    values = _noise(30) + [value + 6.0 for value in _noise(20, seed=9)] + _noise(10, seed=11)
    moved, back = watch(values[:50], [0.0] * 50), watch(values, [0.0] * 60)
    assert moved.high[-1] == CAP
    assert moved.moved_from is not None
    assert back.moved_from is None
    assert back.learned[-1] == 59


def test_one_wild_value_neither_moves_the_series_nor_teaches_much() -> None:
    """It adds no more than its bound."""
    values = _noise(40)
    values[20] = 500.0
    seen = watch(values, [0.0] * 40)
    assert max(seen.high) <= BOUND
    assert values[0] + seen.line.at(0.0) == pytest.approx(50.0, abs=1.0)


def test_weather_explains_what_it_does() -> None:
    """The same values alarm without their temperatures, and not with them."""
    degrees = [float(run % 7) - 3 if run < 20 else -15.0 for run in range(35)]
    values = [value - 0.6 * warm for value, warm in zip(_noise(35), degrees, strict=True)]
    assert watch(values, degrees).moved_from is None
    assert watch(values, [0.0] * 35).moved_from is not None


def test_equal_values_are_no_move_and_another_is() -> None:
    """Without scatter or rounding each difference is as far as can be."""
    assert watch([5.0] * 20, [0.0] * 20).scores[-1] == 0.0
    assert watch([5.0] * 19 + [6.0], [0.0] * 20).scores[-1] == BOUND
