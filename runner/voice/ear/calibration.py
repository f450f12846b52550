"""From a decoding's evidence to the probability that the phrase is what was said."""

import json
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import numpy.typing as npt

from runner.errors import ModelError
from runner.voice.ear.decode import Decoding

EVIDENCE: Final = (
    "shortfall",
    "shortfall_per_phone",
    "margin",
    "margin_per_phone",
    "mean_peak",
    "worst_peak",
    "worst_stretch",
    "outside",
    "phones",
)
"""What a decoding is judged by; `evidence` gives these numbers in this order."""

_CAP: Final = 40.0
_STRETCH: Final = 6
"""Frames of the worst stretch: a short syllable."""


def evidence(decoding: Decoding) -> npt.NDArray[np.float64]:
    """Squash a decoding's scores into numbers of like size, see EVIDENCE."""
    phones = len(decoding.peaks)
    shortfall = max(0.0, decoding.free - decoding.score)
    margin = min(_CAP, decoding.score - decoding.second)
    stretch = np.convolve(decoding.shortfalls, np.ones(_STRETCH), "same").max()
    return np.array([
        np.log1p(shortfall),
        np.log1p(shortfall / phones),
        np.log1p(margin),
        np.log1p(margin / phones),
        np.log1p(-float(decoding.peaks.mean())),
        np.log1p(-float(decoding.peaks.min())),
        np.log1p(float(stretch)),
        np.log1p(min(_CAP, decoding.outside)),
        np.log(phones),
    ])  # fmt: skip


@dataclass(frozen=True, slots=True)
class Calibration:
    """A logistic rule fitted on people and voices that training never heard (models/train/calibrate.py)."""

    centres: npt.NDArray[np.float64]
    spreads: npt.NDArray[np.float64]
    hidden: npt.NDArray[np.float64]
    """(units, evidence): tanh units; none gives a plain logistic rule."""
    hidden_offsets: npt.NDArray[np.float64]
    weights: npt.NDArray[np.float64]
    """For the evidence, then for the hidden units."""
    offset: float
    threshold: float
    """A phrase below this probability is refused."""
    settled: float
    """One at or above it may be taken while the person still might speak."""

    def with_threshold(self, threshold: float | None) -> "Calibration":
        """The same rule with another threshold (0 to 1); nothing is settled early that would be refused."""
        if threshold is None:
            return self
        return replace(self, threshold=threshold, settled=max(self.settled, threshold))

    def probability(self, decoding: Decoding) -> float:
        """Between 0 and 1."""
        return self.probability_of(evidence(decoding))

    def probability_of(self, numbers: npt.NDArray[np.float64]) -> float:
        """The same, 0 to 1, from a decoding's evidence."""
        seen = (numbers - self.centres) / self.spreads
        units = np.tanh(self.hidden @ seen + self.hidden_offsets) if len(self.hidden) else np.empty(0)
        log_odds = float(np.concatenate([seen, units]) @ self.weights) + self.offset
        return float(1 / (1 + np.exp(-np.clip(log_odds, -30, 30))))


def read_calibration(content: bytes) -> Calibration:
    """Read calibration.json; ModelError when it is not for this version's evidence."""
    try:
        given = json.loads(content)
        if tuple(given["evidence"]) != EVIDENCE:
            raise ModelError("calibration.json belongs to another version of eyesout; install eyesout again")
        arrays = {
            name: np.array(given[name], np.float64)
            for name in ("centres", "spreads", "hidden_offsets", "weights")
        }
        return Calibration(
            **arrays,
            hidden=np.array(given["hidden"], np.float64).reshape(-1, len(EVIDENCE)),
            offset=float(given["offset"]),
            threshold=float(given["threshold"]),
            settled=float(given["settled"]),
        )
    except (ValueError, KeyError, TypeError) as error:
        raise ModelError(f"calibration.json cannot be read ({error}); install eyesout again") from error
