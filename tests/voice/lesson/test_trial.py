"""Counting trials, worked by hand."""

from runner.voice.lesson.trial import Tally, Trial, count

TRIALS = (
    Trial("lit", is_answer=True, guess="lit", is_right=True, confidence=0.99),
    Trial("out", is_answer=True, guess="out", is_right=True, confidence=0.7),
    Trial("affirm", is_answer=True, guess="confirm", is_right=False, confidence=0.8),
    Trial("standby", is_answer=True, guess=None, is_right=False, confidence=0.0),
    Trial("the truck is here", is_answer=False, guess="out", is_right=False, confidence=0.76),
    Trial("maybe", is_answer=False, guess=None, is_right=False, confidence=0.0),
)


def test_trials_are_counted_at_a_threshold() -> None:
    """At 0.75: one right, one taken for another, two refused, one that was no answer taken."""
    tally = count(TRIALS, 0.75)
    assert tally == Tally(answers=4, others=2, right=1, mistaken=1, others_taken=1)
    assert (tally.refused, tally.wrong) == (2, 2)


def test_a_higher_threshold_refuses_more_and_a_lower_one_less() -> None:
    """At 0.9 only the surest is left; at 0 everything that the ear guessed at."""
    assert count(TRIALS, 0.9) == Tally(answers=4, others=2, right=1, mistaken=0, others_taken=0)
    assert count(TRIALS, 0.0) == Tally(answers=4, others=2, right=2, mistaken=1, others_taken=1)
