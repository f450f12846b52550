"""Two ears as one: a logistic rule from what both said to the probability that a phrase is right.

`tests/bench/ear/bench_pair.py` fits it on one half of the speakers and judges it on the other.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]

SURE: Final = 1e-4
"""No probability is taken to be nearer to 0 or 1 than this."""


@dataclass(frozen=True, slots=True)
class Opinion:
    """What two ears said of one utterance."""

    first: str | None
    """The calibrated ear's best guess, whether it would take it or not."""
    probability: float
    second: str | None
    """The other ear's phrase; None when it heard none of them."""
    confidence: float
    """The other ear's, of whatever meaning."""


@dataclass(frozen=True, slots=True)
class PairRule:
    """Weights for the first ear's guess, and for the second's where it differs."""

    for_first: Floats
    for_second: Floats

    def chosen(self, opinion: Opinion) -> tuple[str | None, float]:
        """The likelier of the two phrases, and its probability."""
        first, second = opinion.first, opinion.second
        of_first = _probability(self.for_first, seen_for_first(opinion)) if first is not None else 0.0
        if second is None or second == first:
            return first, of_first
        of_second = _probability(self.for_second, seen_for_second(opinion))
        return (second, of_second) if of_second > of_first else (first, of_first)


def log_odds(probability: float) -> float:
    """Natural logarithm of the odds, kept finite."""
    kept = min(1 - SURE, max(SURE, probability))
    return float(np.log(kept / (1 - kept)))


def seen_for_first(opinion: Opinion) -> Floats:
    """What the first ear's guess is judged by: its odds, and whether the second agrees or differs."""
    own, other = log_odds(opinion.probability), log_odds(opinion.confidence)
    is_same, is_silent = opinion.second == opinion.first, opinion.second is None
    differs = not is_same and not is_silent
    return np.array([1, own, is_same, is_silent, own * is_same, other * is_same, other * differs], np.float64)


def seen_for_second(opinion: Opinion) -> Floats:
    """What the second ear's own phrase is judged by."""
    own, other = log_odds(opinion.probability), log_odds(opinion.confidence)
    return np.array([1, own, other, opinion.first is None], np.float64)


def fit_rule(opinions: list[Opinion], truths: list[frozenset[str]]) -> PairRule:
    """From opinions and every phrase that would have been right (none when nothing in force was said)."""
    heard = [(o, t) for o, t in zip(opinions, truths, strict=True) if o.first is not None]
    differ = [(o, t) for o, t in zip(opinions, truths, strict=True) if o.second not in (None, o.first)]
    return PairRule(
        fit([seen_for_first(o) for o, _ in heard], [o.first in t for o, t in heard]),
        fit([seen_for_second(o) for o, _ in differ], [o.second in t for o, t in differ]),
    )


def fit(seen: list[Floats], right: list[bool], ridge: float = 1.0) -> Floats:
    """Logistic regression by Newton's method; `ridge` keeps weights of what was never seen at zero."""
    if not seen:
        return np.zeros(4)
    x, y = np.array(seen), np.array(right, np.float64)
    weights = np.zeros(x.shape[1])
    for _ in range(30):
        said = 1 / (1 + np.exp(-np.clip(x @ weights, -30, 30)))
        slope = x.T @ (y - said) - ridge * weights
        bend = (x * (said * (1 - said))[:, None]).T @ x + ridge * np.eye(len(weights))
        step = np.linalg.solve(bend, slope)
        weights += step
        if np.abs(step).max() < 1e-8:
            break
    return weights


def _probability(weights: Floats, seen: Floats) -> float:
    return float(1 / (1 + np.exp(-np.clip(weights @ seen, -30, 30))))
