"""The search for the best phrase in force."""

import itertools

import numpy as np
import numpy.typing as npt
import pytest

from runner.voice.ear.decode import decode
from runner.voice.ear.graph import phrase_graph
from runner.voice.ear.lexicon import Lexicon
from runner.voice.ear.network_phone import BLANK, OUTPUTS, phone_numbers
from runner.voice.port import More

PHRASES = (
    "both lit",
    "left out",
    "right out",
    "right",
    "say again",
    "standby",
    "two four decimal six",
    "two four",
)


def scores_of(
    phones: list[int], *, lead: int = 4, noise: float = 0.0, seed: int = 0
) -> npt.NDArray[np.float32]:
    """Posteriors of someone who says these phones, two frames each with blanks between."""
    frames = lead + 3 * len(phones) + 4
    logits = np.random.default_rng(seed).normal(0, noise, (frames, OUTPUTS)).astype(np.float32)
    logits[:, BLANK] += 5
    for n, phone in enumerate(phones):
        logits[lead + 3 * n : lead + 3 * n + 2, phone] += 10
    return np.asarray(logits - np.log(np.exp(logits).sum(1, keepdims=True)), np.float32)


def phones_of(phrase: str) -> list[int]:
    """The first pronunciation of each word, end to end."""
    return [phone for word in phrase.split() for phone in Lexicon().pronunciations(word)[0]]


def exact_score(posteriors: npt.NDArray[np.float32], phones: list[int]) -> float:
    """The best CTC path by a plain textbook recursion (Graves et al. 2006, section 4.1, max for sum)."""
    labels = [BLANK, *itertools.chain.from_iterable((phone, BLANK) for phone in phones)]
    best = np.full(len(labels), -np.inf)
    best[:2] = posteriors[0, labels[:2]]
    for row in posteriors[1:]:
        previous = best.copy()
        for s in range(len(labels)):
            reach = [previous[s]] + ([previous[s - 1]] if s else [])
            if s > 1 and labels[s] not in {BLANK, labels[s - 2]}:
                reach.append(previous[s - 2])
            best[s] = max(reach) + row[labels[s]]
    return float(max(best[-1], best[-2]))


@pytest.mark.parametrize("phrase", PHRASES)
def test_what_is_said_is_found(phrase: str) -> None:
    """Each phrase among all of them, in some noise."""
    found = decode(scores_of(phones_of(phrase), noise=1.0), phrase_graph(PHRASES, Lexicon()))
    assert found is not None
    assert found.text == phrase


@pytest.mark.parametrize("seed", range(5))
def test_best_and_second_are_those_of_a_plain_search(seed: int) -> None:
    """Against one textbook CTC recursion for each phrase and pronunciation."""
    lexicon = Lexicon()
    posteriors = np.maximum(scores_of(phones_of("right out"), noise=3.0, seed=seed), np.float32(-12))
    scores: list[float] = []
    for phrase in PHRASES:
        ways = itertools.product(*(lexicon.pronunciations(word) for word in phrase.split()))
        scores.append(max(exact_score(posteriors, [p for word in way for p in word]) for way in ways))
    found = decode(posteriors, phrase_graph(PHRASES, lexicon))
    assert found is not None
    second, first = sorted(scores)[-2:]
    assert found.text == PHRASES[int(np.argmax(scores))]
    assert found.score == pytest.approx(first, abs=1e-3)
    assert found.second == pytest.approx(second, abs=1e-3)


def test_other_words_fall_short_of_free_phones() -> None:
    """The shortfall is what refuses them."""
    graph = phrase_graph(PHRASES, Lexicon())
    said = decode(scores_of(phones_of("standby")), graph)
    other = decode(scores_of(phones_of("marmalade")), graph)
    assert said is not None
    assert other is not None
    assert said.free - said.score < 1
    assert other.free - other.score > 20


def test_onset_is_the_frame_of_the_first_phone() -> None:
    """And the end that of the last."""
    found = decode(scores_of(phones_of("say again"), lead=20), phrase_graph(PHRASES, Lexicon()))
    assert found is not None
    assert found.first_frame == 20
    assert found.last_frame == 20 + 3 * (len(found.peaks) - 1) + 1


@pytest.mark.parametrize(
    ("phrase", "more"),
    [
        ("right", More.WORDS),
        ("right out", More.NOTHING),
        ("two four", More.WORDS),
        ("two four decimal six", More.UNIT),
        ("one volt", More.NOTHING),
    ],
)
def test_it_says_what_may_follow(phrase: str, more: More) -> None:
    """`right` may become `right out`; after a whole number only its unit may come."""
    phrases = (*PHRASES, "two four decimal six volts", "one", "one volt")
    found = decode(scores_of(phones_of(phrase)), phrase_graph(phrases, Lexicon()))
    assert found is not None
    assert found.more is more


def test_a_phrase_that_lasts_to_the_end_is_not_weighed_when_quiet_is_asked_for() -> None:
    """Nothing may settle while its last phone may still sound, so the work is saved."""
    graph, posteriors = phrase_graph(PHRASES, Lexicon()), scores_of(phones_of("left out"))
    found, early = (decode(posteriors[:last], graph, least_quiet=5) for last in (None, -1))
    assert found is not None
    assert found.text == "left out"
    assert early is None


def test_sound_too_short_for_any_phrase_is_none() -> None:
    """Two frames hold no word of these."""
    assert decode(scores_of(phones_of("standby"))[:2], phrase_graph(PHRASES, Lexicon())) is None


def test_one_search_worked_by_hand() -> None:
    """Five frames of `at` beside `it`: silence, a phone held for two frames, another, a click.

    at: -0.5 - 1 - 0.5 - 1 - 1 = -4; it: -0.5 - 1.5 (silence) - 2.5 - 1 - 1 = -6.5; free phones take the
    -0.25 of the second frame and the -0.5 of the last: -2.75.
    """
    lexicon = Lexicon({"at": ("AE T",), "it": ("IH T",)})
    blank, ae, ih, t, click = 0, *phone_numbers("AE IH T B")
    posteriors = np.full((5, OUTPUTS), -20.0, np.float32)
    for frame, phone, score in (
        (0, blank, -0.5),
        (0, ae, -2.0),
        (1, blank, -1.5),
        (1, ae, -1.0),
        (1, ih, -4.0),
        (1, click, -0.25),
        (2, ae, -0.5),
        (2, ih, -2.5),
        (3, t, -1.0),
        (4, blank, -1.0),
        (4, t, -2.0),
        (4, click, -0.5),
    ):
        posteriors[frame, phone] = score
    found = decode(posteriors, phrase_graph(("at", "it"), lexicon))
    assert found is not None
    assert (found.text, found.score, found.second, found.free) == ("at", -4.0, -6.5, -2.75)
    assert found.peaks.tolist() == [-0.5, -1.0]
    assert found.shortfalls.tolist() == [0.0, 0.75, 0.0, 0.0, 0.5]
    assert (found.first_frame, found.last_frame, found.outside) == (1, 3, 0.5)
    assert found.more is More.NOTHING


def test_one_bad_frame_costs_no_more_than_the_floor() -> None:
    """-20 in the middle of a phone counts as -12, and with one phrase there is no second."""
    posteriors = np.full((4, OUTPUTS), -20.0, np.float32)
    ae, t = phone_numbers("AE T")
    posteriors[0, ae] = posteriors[1, t] = posteriors[3, t] = -1.0
    found = decode(posteriors, phrase_graph(("at",), Lexicon({"at": ("AE T",)})))
    assert found is not None
    assert (found.score, found.second) == (-15.0, -1e9)
