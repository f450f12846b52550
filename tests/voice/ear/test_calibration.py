"""From evidence to probability."""

import json
from dataclasses import replace

import numpy as np
import pytest

from runner.errors import ModelError
from runner.voice.ear.calibration import EVIDENCE, evidence, read_calibration
from runner.voice.ear.decode import Decoding
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


WORKED = Decoding(
    text="at",
    score=-4.0,
    second=-6.5,
    free=-2.75,
    peaks=np.array([-0.5, -1.0], np.float32),
    shortfalls=np.array([0, 0.75, 0, 0, 0.5], np.float32),
    first_frame=1,
    last_frame=3,
    outside=0.5,
    more=More.NOTHING,
)


def test_the_evidence_is_what_a_hand_computes() -> None:
    """Shortfall 1.25 and margin 2.5 over two phones, peaks of mean -0.75, all of it in one stretch."""
    by_hand = [2.25, 1.625, 3.5, 2.25, 1.75, 2.0, 2.25, 1.5, 2.0]
    assert evidence(WORKED) == pytest.approx(np.log(by_hand), rel=1e-6)


def test_a_stretch_is_six_frames_and_what_is_far_away_is_no_further_than_forty() -> None:
    """Eight bad frames of 1 nat hold a stretch of 6; margin and outside are cut at 40."""
    far = replace(
        WORKED, second=-1e9, outside=90.0, shortfalls=np.array([0] * 9 + [1] * 8 + [0] * 9, np.float32)
    )
    numbers = dict(zip(EVIDENCE, evidence(far), strict=True))
    assert numbers["worst_stretch"] == pytest.approx(np.log(7))
    assert numbers["margin"] == numbers["outside"] == pytest.approx(np.log(41))
    assert numbers["margin_per_phone"] == pytest.approx(np.log(21))


def test_a_score_above_free_phones_is_no_shortfall() -> None:
    """Rounding may put the best path a hair above the ceiling."""
    assert evidence(replace(WORKED, free=-4.0001))[:2] == pytest.approx([0, 0])


def test_each_number_is_seen_from_its_centre_in_its_spread() -> None:
    """(ln 2.25 - 0.5) / 0.25 is the only one that weighs, by hand."""
    given = RULE | {"centres": [0.5] * COUNT, "spreads": [0.25] * COUNT}
    odds = 2.0 - (np.log(2.25) - 0.5) / 0.25
    found = read_calibration(json.dumps(given).encode()).probability(WORKED)
    assert found == pytest.approx(1 / (1 + np.exp(-odds)), rel=1e-6)
