"""Choosing threshold and ear, against scipy's optimum and cases worked by hand."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import optimize, special

from runner.voice.lesson.fitting import (
    CEILING,
    FLOOR,
    OFFSET_SPREAD,
    choose_engine,
    choose_threshold,
    fit_offset,
)
from runner.voice.lesson.trial import Trial, count

SHIPPED = 0.75


def said(confidence: float) -> Trial:
    """An answer that the ear guessed right."""
    return Trial("lit", is_answer=True, guess="lit", is_right=True, confidence=confidence)


def mistaken(confidence: float) -> Trial:
    """An answer that the ear guessed wrong."""
    return Trial("lit", is_answer=True, guess="out", is_right=False, confidence=confidence)


def other(confidence: float) -> Trial:
    """Something that was no answer."""
    return Trial("maybe", is_answer=False, guess="lit", is_right=False, confidence=confidence)


DEAF = Trial("lit", is_answer=True, guess=None, is_right=False, confidence=0.0)

trials = st.lists(
    st.builds(lambda make, sure: make(sure), st.sampled_from([said, mistaken, other]), st.floats(0, 1))
)


@pytest.mark.parametrize(
    "heard",
    [
        [said(0.99)] * 12 + [said(0.6)] * 5 + [other(0.1)] * 3,
        [said(0.9)] * 17 + [other(0.8)] * 3,
        [mistaken(0.7)] * 20,
        [said(0.3)] * 20,
        [],
    ],
)
def test_the_offset_is_the_optimum_that_scipy_finds(heard: list[Trial]) -> None:
    """Least of minus log-likelihood plus the prior's square, by scipy.optimize.minimize_scalar."""
    odds = special.logit(np.array([trial.confidence for trial in heard]))
    signs = np.array([1.0 if trial.is_right else -1.0 for trial in heard])

    def loss(offset: float) -> float:
        return float(np.logaddexp(0.0, -signs * (odds + offset)).sum() + offset**2 / (2 * OFFSET_SPREAD**2))

    found = optimize.minimize_scalar(loss, bounds=(-20, 20), method="bounded", options={"xatol": 1e-9}).x
    assert fit_offset([*heard, DEAF]) == pytest.approx(found, abs=1e-5)


def test_being_heard_well_lowers_nothing() -> None:
    """Seventeen of seventeen at once: no answer asks for a lower threshold."""
    assert choose_threshold(SHIPPED, [said(0.99)] * 17 + [other(0.02)] * 3) == SHIPPED


def test_one_refusal_of_a_barely_sure_answer_is_within_what_is_usual() -> None:
    """One at 0.55 among sixteen at 0.99 moves the fitted place by a fifth of a log-odd: not so far."""
    assert choose_threshold(SHIPPED, [said(0.99)] * 16 + [said(0.55)]) == SHIPPED


def test_several_right_answers_that_were_refused_lower_it_to_the_least_sure_that_the_fit_allows() -> None:
    """Five at 0.6, one at 0.505: the fitted place lies between them, so 0.6 it is."""
    heard = [said(0.99)] * 11 + [said(0.6)] * 5 + [said(0.505)] + [other(0.02)] * 3
    assert 0.505 < special.expit(special.logit(SHIPPED) - fit_offset(heard)) < 0.6
    assert choose_threshold(SHIPPED, heard) == 0.6


def test_a_wrong_guess_that_was_nearly_taken_keeps_it_up() -> None:
    """The same person, but something that was no answer came out at 0.58: 0.6 is too near to it."""
    heard = [said(0.99)] * 11 + [said(0.6)] * 6 + [other(0.58)]
    assert choose_threshold(SHIPPED, heard) == SHIPPED


def test_something_taken_wrongly_raises_it() -> None:
    """By half a log-odd at least (0.75 is 3 to 1, so 3 * exp(0.5) to 1); by the fit where that asks more."""
    once = [said(0.99)] * 17 + [other(0.8), other(0.02)]
    assert choose_threshold(SHIPPED, once) == pytest.approx(special.expit(np.log(3) + 0.5))
    twice = [said(0.99)] * 17 + [other(0.98), other(0.97)]
    fitted = special.expit(np.log(3) - fit_offset(twice))
    assert fitted > special.expit(np.log(3) + 0.5)
    assert choose_threshold(SHIPPED, twice) == pytest.approx(fitted)


def test_there_is_no_sure_enough_where_the_ear_is_wrong_and_certain() -> None:
    """It ends at the ceiling; what is still taken wrongly shows in the count."""
    heard = [other(1.0)] * 20
    assert choose_threshold(SHIPPED, heard) == CEILING
    assert count(heard, CEILING).wrong == 20


def test_an_ear_without_a_threshold_only_ever_gets_a_higher_one() -> None:
    """Vosk's confidence is no probability: only what it took wrongly counts."""
    assert choose_threshold(0.0, [said(0.2)] * 17) == 0.0
    assert choose_threshold(0.0, [said(0.9)] * 17 + [other(0.5)]) == pytest.approx(special.expit(0.5))


@given(trials)
def test_it_never_leaves_its_ends_and_never_takes_a_wrong_guess_that_the_shipped_one_refused(
    heard: list[Trial],
) -> None:
    """Whatever was heard: between the floor and the ceiling, and nothing more is wrong than as shipped."""
    chosen = choose_threshold(SHIPPED, heard)
    assert FLOOR <= chosen <= CEILING
    assert count(heard, chosen).wrong <= count(heard, SHIPPED).wrong
    assert chosen == pytest.approx(choose_threshold(SHIPPED, list(reversed(heard))))


def choose(builtin: list[Trial], vosk: list[Trial]) -> str:
    """Between two ears with the thresholds they come with."""
    return choose_engine({"builtin": builtin, "vosk": vosk}, {"builtin": SHIPPED, "vosk": 0.0})


@pytest.mark.parametrize(
    ("builtin", "vosk", "chosen"),
    [
        ([said(0.99)] * 20, [said(0.9)] * 20, "builtin"),
        ([said(0.99)] * 16 + [said(0.5)] * 4, [said(0.9)] * 20, "builtin"),  # 4:0 happens once in 16
        ([said(0.99)] * 15 + [said(0.5)] * 5, [said(0.9)] * 20, "vosk"),  # 5:0 happens once in 32
        ([said(0.99)] * 10 + [DEAF] * 10, [said(0.9)] * 19 + [other(0.9)], "builtin"),  # but took one wrong
        ([said(0.99)] * 19 + [other(0.9)], [said(0.9)] * 19 + [DEAF], "vosk"),  # took one fewer wrong
        ([said(0.99)] * 19 + [other(0.9)], [DEAF] * 20, "builtin"),  # a deaf ear takes nothing wrong either
    ],
)
def test_another_ear_must_be_clearly_better(builtin: list[Trial], vosk: list[Trial], chosen: str) -> None:
    """The usual one stays unless the other takes fewer wrong, or clearly more right and none more wrong."""
    assert choose(builtin, vosk) == chosen
