"""Which item a line means: names, challenges, the author's phrases, slips of the pen, and opposites."""

from pathlib import Path

import pytest

from runner.drill.recited.flow_words import FlowWords, likeness_of_words
from tests.checklist.shipped import CHECKS, shipped_check
from tests.drill.recited.flow import SMALL

WORDS = FlowWords(SMALL)


@pytest.mark.parametrize(
    ("line", "item"),
    [
        ("cover", "cover"),
        ("Pitot cover", "cover"),
        ("pitot cover is off", "cover"),
        ("cover is off", "cover"),
        ("peeple near", "people"),
        ("nobody near", "people"),
        ("Lamp switch on.", "lamp on"),
        ("lamp off", "lamp off"),
        ("caps tight", "tip caps"),
        ("flow complete", "call"),
    ],
)
def test_a_line_means_an_item_by_name_challenge_or_the_author_s_phrase(line: str, item: str) -> None:
    """And small slips change nothing."""
    said = WORDS.understand(line)
    assert (said.candidates, said.is_doubtful) == ((item,), False)


@pytest.mark.parametrize("line", ["lamp", "lamp switch", "tank"])
def test_what_may_mean_several_is_in_doubt(line: str) -> None:
    """The lamp on or off; the tanks or the caps of the tip tank: shown with what it may be."""
    said = WORDS.understand(line)
    assert said.is_doubtful
    assert len(said.candidates) >= 2


def test_what_is_like_nothing_is_foreign_when_typed_and_in_doubt_when_heard() -> None:
    """Whoever types has written it; an ear may have got it wrong."""
    assert WORDS.understand("fuel selector").candidates == ()
    assert not WORDS.understand("fuel selector").is_doubtful
    assert WORDS.understand("fuel selector", is_heard=True).is_doubtful


@pytest.mark.parametrize(
    ("one", "other"), [("lamp on", "lamp off"), ("left fan", "right fan"), ("up", "down")]
)
def test_opposites_are_never_alike(one: str, other: str) -> None:
    """However many letters they share."""
    assert likeness_of_words(one, other) == 0
    assert likeness_of_words(other, one) == 0
    assert likeness_of_words(one, one) == 100


@pytest.mark.parametrize("path", CHECKS, ids=lambda path: path.stem)
def test_every_phrase_of_a_shipped_check_means_its_own_item(path: Path) -> None:
    """With the item's name before it; what two items share is in doubt between them."""
    check = shipped_check(path.stem)
    words = FlowWords(check)
    for item in check.items:
        for text in (
            item.name,
            *(f"{item.name} {phrase}" for each in item.responses for phrase in each.phrases),
        ):
            assert item.name in words.understand(text).candidates, text
