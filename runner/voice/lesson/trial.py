"""What an ear made of phrases that a person was asked to say, counted at any threshold."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Trial:
    """One asked phrase, said once, and the best guess that the ear had."""

    asked: str
    is_answer: bool
    """The phrase was in force; otherwise whatever comes out is wrong."""
    guess: str | None
    """The likeliest phrase in force, whether or not it is sure enough; None when the ear has none."""
    is_right: bool
    """The guess means what was said."""
    confidence: float
    """Probability (0 to 1) that the ear gives to its guess."""

    def is_taken(self, threshold: float) -> bool:
        """The ear takes its guess for an answer at that threshold, 0 to 1."""
        return self.guess is not None and self.confidence >= threshold


@dataclass(frozen=True, slots=True)
class Tally:
    """What came of all trials at one threshold."""

    answers: int
    """Trials whose phrase was in force."""
    others: int
    """Trials whose phrase was not."""
    right: int
    """Answers that were taken for what they were."""
    mistaken: int
    """Answers that were taken for another one."""
    others_taken: int
    """Other phrases that were taken for an answer."""

    @property
    def refused(self) -> int:
        """Answers that would be asked again."""
        return self.answers - self.right - self.mistaken

    @property
    def wrong(self) -> int:
        """Everything that was taken and not said."""
        return self.mistaken + self.others_taken


def count(trials: Sequence[Trial], threshold: float) -> Tally:
    """Count what happens when guesses below the threshold (0 to 1) are refused."""
    taken = [trial for trial in trials if trial.is_taken(threshold)]
    answers = sum(trial.is_answer for trial in trials)
    return Tally(
        answers=answers,
        others=len(trials) - answers,
        right=sum(trial.is_right for trial in taken),
        mistaken=sum(trial.is_answer and not trial.is_right for trial in taken),
        others_taken=sum(not trial.is_answer for trial in taken),
    )
