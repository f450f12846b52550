"""What is said about what was learned."""

import pytest

from runner.voice.lesson.advice import KEYS, get_advice
from runner.voice.lesson.learned import Learned, LearnedEar, Measures
from runner.voice.lesson.trial import Tally

GOOD = Measures(floor_dbfs=-70.0, speech_dbfs=-22.0, clipped=0, sayings=20)


def words(
    shipped: Tally, *, fitted: Tally | None = None, threshold: float = 0.75, measures: Measures = GOOD
) -> str:
    """All sentences."""
    ear = LearnedEar("builtin", "", 0.75, threshold, shipped, fitted or shipped)
    return "\n".join(get_advice(Learned("", "", 0.0, measures, "builtin", (ear,), 1, ('"lit" as "out"',))))


def test_a_number_comes_with_its_range() -> None:
    """Of 1 in 17: Laplace's 2/19; Wilson's 1.05 % to 26.98 % (scipy 1.17)."""
    said = words(Tally(17, 3, 16, 0, 0))
    assert "I heard 16 of 17 answers at once, and 1 more when said again" in said
    assert "ask again once in 10 answers; so few phrases fit anything from once in 96 answers" in said
    assert "to once in 4 answers." in said


def test_nothing_wrong_is_no_promise() -> None:
    """0 of 20 fits up to 16.1 % (Wilson): once in 6."""
    said = words(Tally(17, 3, 17, 0, 0))
    assert "20 cannot show more than that it is rarer than once in 6 answers" in said
    assert "from hardly ever to once in 5 answers" in said


@pytest.mark.parametrize("shipped", [Tally(17, 3, 17, 0, 0), Tally(17, 3, 2, 1, 1), Tally(17, 3, 0, 0, 0)])
def test_it_always_ends_with_keys_and_never_says_safe(shipped: Tally) -> None:
    """However well it went."""
    said = words(shipped)
    assert said.endswith(KEYS)
    assert "safe" not in said.lower()


def test_what_was_taken_wrongly_is_told() -> None:
    """With what it was taken for, and that the ear asks to be surer now."""
    said = words(Tally(17, 3, 15, 1, 0), fitted=Tally(17, 3, 10, 0, 0), threshold=0.9)
    assert 'I took 1 of 20 wrongly: "lit" as "out". Check each read-back, or use keys.' in said
    assert "0.90 instead of 0.75; that asks again more often" in said
    assert "ask again once in 2 answers" in said or "every other answer" in said


def test_a_lower_threshold_is_told() -> None:
    """And what is expected is still counted as shipped."""
    said = words(Tally(17, 3, 12, 0, 0), fitted=Tally(17, 3, 16, 0, 0), threshold=0.6)
    assert "I take them from 0.60 on instead of 0.75" in said
    assert "ask again once in 3 answers" in said


@pytest.mark.parametrize(
    ("measures", "advice"),
    [
        (Measures(-70.0, -50.0, 0, 20), "too quiet"),
        (Measures(-70.0, -3.0, 4, 20), "clips: 4 of 20"),
        (Measures(-27.0, -5.0, 0, 20), "expect 0 to 4 of 20 answers to be asked again. Use keys"),
        (Measures(-32.0, -22.0, 0, 20), "too loud for this microphone"),
    ],
)
def test_a_bad_microphone_or_room_gets_its_advice(measures: Measures, advice: str) -> None:
    """Each its own, and a good one none of them."""
    perfect = Tally(17, 3, 17, 0, 0)
    assert advice in words(perfect, measures=measures)
    assert advice not in words(perfect)
