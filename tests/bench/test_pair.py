"""The rule for two ears, and its fit."""

import importlib
import random
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parents[2] / "models" / "train"))  # scripts; no package
pair: Any = importlib.import_module("pair")


def _opinions(count: int, seed: int = 3) -> tuple[list[Any], list[frozenset[str]]]:
    """A first ear that is right as often as it says; a second, right 4 times in 5 whatever the first says."""
    rng = random.Random(seed)  # noqa: S311 - draws test cases
    found = []
    for _ in range(count):
        said = rng.uniform(0.3, 0.99)
        first = "yes" if rng.random() < said else "no"
        second = "yes" if rng.random() < 0.8 else rng.choice(["no", "stop", None])
        found.append(pair.Opinion(first, said, second, 0.5))
    return found, [frozenset({"yes"})] * count


def test_the_fit_finds_the_weights_that_the_answers_were_drawn_with() -> None:
    """A logistic rule of an offset and two numbers; standard errors are below 0.05 at 20,000 draws."""
    rng = np.random.default_rng(1)
    seen = np.column_stack([np.ones(20_000), rng.standard_normal((20_000, 2))])
    truth = np.array([0.5, -1.0, 2.0])
    right = rng.random(20_000) < 1 / (1 + np.exp(-seen @ truth))
    assert pair.fit(list(seen), list(right)) == pytest.approx(truth, abs=0.15)


def test_what_was_never_seen_gets_no_weight() -> None:
    """A column of zeros stays at zero."""
    seen = [np.array([1.0, 0.0])] * 10
    assert pair.fit(seen, [True] * 5 + [False] * 5) == pytest.approx([0, 0], abs=1e-9)


def test_agreement_makes_a_guess_surer_and_disagreement_less_sure() -> None:
    """The same first guess at 0.8, with and against the second ear."""
    rule = pair.fit_rule(*_opinions(4000))
    agreed = rule.chosen(pair.Opinion("yes", 0.8, "yes", 0.5))
    differed = rule.chosen(pair.Opinion("yes", 0.8, "stop", 0.5))
    assert agreed[0] == "yes"
    assert agreed[1] > 0.8 > differed[1]


def test_the_second_ear_wins_over_a_guess_that_is_hardly_sure() -> None:
    """It is right four times in five where the first says three in ten."""
    rule = pair.fit_rule(*_opinions(4000))
    assert rule.chosen(pair.Opinion("no", 0.3, "yes", 0.5))[0] == "yes"


def test_the_probabilities_of_the_chosen_phrases_are_true() -> None:
    """On other opinions of the same kind; their mean is off by no more than 0.03."""
    rule = pair.fit_rule(*_opinions(4000))
    opinions, truths = _opinions(3000, seed=4)
    chosen = [rule.chosen(opinion) for opinion in opinions]
    right = [text in truth for (text, _), truth in zip(chosen, truths, strict=True)]
    assert np.mean([said for _, said in chosen]) == pytest.approx(np.mean(right), abs=0.03)


def test_certainty_stays_finite() -> None:
    """A probability of exactly 0 or 1."""
    assert np.isfinite([pair.log_odds(0.0), pair.log_odds(1.0)]).all()
