"""The 80 % rule of thumb."""

from dataclasses import replace

import pytest

from runner.airplane.minutes.generator import exceeds_rule_of_thumb, loadings
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.source import Generator


@pytest.mark.parametrize(("amps", "is_over"), [(79.9, False), (80.0, False), (80.1, True), (100, True)])
def test_a_hundred_ampere_generator_is_overloaded_above_eighty(amps: float, *, is_over: bool) -> None:
    """AC 43.13-1B Chg 1 paragraph 11-35 a: continuous load over 80 % of the output."""
    assert exceeds_rule_of_thumb(amps, 100) is is_over


def test_each_generator_is_judged_with_the_others_lost(merlow: Airplane) -> None:
    """Two share the cruise load; when either is lost the other carries all of it."""
    found = {(each.lost, each.generator): each.amps for each in loadings(merlow)}
    both = found["", "left generator"]
    assert found["left generator", "right generator"] == pytest.approx(2 * both)
    assert found["right generator", "left generator"] == pytest.approx(2 * both)


def test_a_generator_too_small_is_found(merlow: Airplane) -> None:
    """With two of 130 A the load on one alone is over 104 A."""
    small = {
        name: replace(source, amps=130) if isinstance(source, Generator) else source
        for name, source in merlow.sources.items()
    }
    over = [each for each in loadings(replace(merlow, sources=small)) if each.is_over]
    assert {each.lost for each in over} == {"left generator", "right generator"}
