"""From evidence to probability."""

import json

import numpy as np
import pytest

from runner.errors import ModelError
from runner.voice.calibration import EVIDENCE, evidence, read_calibration
from runner.voice.decode import Decoding
from runner.voice.port import More

COUNT = len(EVIDENCE)
RULE = {
    "evidence": list(EVIDENCE),
    "centres": [0.0] * COUNT,
    "spreads": [1.0] * COUNT,
    "hidden": [],
    "hidden_offsets": [],
    "weights": [-1.0, *[0.0] * (COUNT - 1)],
    "offset": 2.0,
    "threshold": 0.8,
    "settled": 0.97,
}


def decoding(shortfall: float, second: float = -50.0) -> Decoding:
    """A phrase of four phones that falls short of free phones by so much."""
    return Decoding(
        text="both lit",
        score=-10.0,
        second=second,
        free=-10.0 + shortfall,
        peaks=np.full(4, -0.1, np.float32),
        shortfalls=np.full(20, shortfall / 20, np.float32),
        first_frame=3,
        last_frame=17,
        outside=0.0,
        more=More.NOTHING,
    )


def test_the_logistic_rule_is_the_textbook_one() -> None:
    """1 / (1 + exp(-(2 - log(1 + shortfall)))), by hand."""
    rule = read_calibration(json.dumps(RULE).encode())
    assert rule.probability(decoding(3.0)) == pytest.approx(1 / (1 + np.exp(-(2 - np.log(4)))))


def test_tanh_units_add_to_it() -> None:
    """One unit that looks at the shortfall only."""
    given = RULE | {
        "hidden": [1.0, *[0.0] * (COUNT - 1)],
        "hidden_offsets": [0.5],
        "weights": [0.0] * COUNT + [2.0],
        "offset": 0.0,
    }
    odds = 2 * np.tanh(np.log(4) + 0.5)
    assert read_calibration(json.dumps(given).encode()).probability(decoding(3.0)) == pytest.approx(
        1 / (1 + np.exp(-odds))
    )


def test_evidence_is_finite_with_no_second_phrase() -> None:
    """A runner-up that does not exist counts as far away, not as infinitely far."""
    assert np.isfinite(evidence(decoding(0.0, second=-1e9))).all()


@pytest.mark.parametrize("content", [b"{", b"{}", json.dumps(RULE | {"evidence": ["other"]}).encode()])
def test_a_file_that_does_not_fit_is_refused(content: bytes) -> None:
    """Broken, empty, or of another version."""
    with pytest.raises(ModelError, match=r"calibration\.json"):
        read_calibration(content)


def test_another_threshold_leaves_the_rule_alone_and_settles_nothing_that_it_refuses() -> None:
    """Lower or higher than the shipped 0.8; what may be taken early stays at least as sure."""
    shipped = read_calibration(json.dumps(RULE).encode())
    assert shipped.with_threshold(None) is shipped
    lower, higher = shipped.with_threshold(0.6), shipped.with_threshold(0.99)
    assert (lower.threshold, lower.settled) == (0.6, 0.97)
    assert (higher.threshold, higher.settled) == (0.99, 0.99)
    assert higher.probability(decoding(3.0)) == shipped.probability(decoding(3.0))
