"""What an ear takes rightly at a given share of wrong answers: the fair way to compare ears that refuse."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Judged:
    """One utterance as one ear, or a pair, would answer it."""

    place: tuple[str, str]
    """Set and noise."""
    score: float
    """The surer, the higher."""
    has_text: bool
    is_right: bool


def threshold_for(judged: list[Judged], wrong_share: float) -> float:
    """The lowest score that may be taken so that wrong answers are at most this share of all utterances."""
    may_be_wrong = int(wrong_share * len(judged))
    wrong = sorted((j.score for j in judged if j.has_text and not j.is_right), reverse=True)
    taken = [j.score for j in judged if j.has_text]
    if len(wrong) <= may_be_wrong:
        return min(taken, default=0.0)
    above = [score for score in taken if score > wrong[may_be_wrong]]
    return min(above, default=float("inf"))


def shares(judged: Iterable[Judged], threshold: float) -> dict[tuple[str, str], tuple[int, float, float]]:
    """By set and noise: utterances, percent taken and right, percent taken and wrong."""
    by_place: dict[tuple[str, str], list[Judged]] = {}
    for one in judged:
        by_place.setdefault(one.place, []).append(one)
    return {place: _share(found, threshold) for place, found in by_place.items()}


def _share(judged: list[Judged], threshold: float) -> tuple[int, float, float]:
    taken = [j for j in judged if j.has_text and j.score >= threshold]
    right = sum(j.is_right for j in taken)
    return len(judged), 100 * right / len(judged), 100 * (len(taken) - right) / len(judged)
