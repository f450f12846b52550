import re

import pytest
from num2words import num2words

from runner.language.cardinal import LARGEST, cardinal, grouped, may_grow

# Status of a source: SEEN-2 quoted by another source, MEM from memory, derived by applying the rule.


def test_groups_agree_with_num2words() -> None:
    """Up to 20,000 and at every power of ten the words are num2words' own, less hyphens, commas and "and"."""
    for whole in (*range(20_001), 99_999, 100_000, 100_001, 110_000, 999_999):
        assert cardinal(whole) == re.sub(r"[-, ]+(and )?", " ", num2words(whole))


@pytest.mark.parametrize("whole", [-1, LARGEST + 1])
def test_a_number_outside_every_gauge_is_refused(whole: int) -> None:
    """Numbers that no gauge shows raise, and the message names them."""
    with pytest.raises(ValueError, match=f"{whole} cannot be spoken"):
        cardinal(whole)


@pytest.mark.parametrize(
    ("whole", "spoken"),
    [
        (500, "five hundred"),  # AIM 4-2-8a (MEM)
        (4500, "four thousand five hundred"),  # AIM 4-2-8a (SEEN-2)
        (10_000, "one zero thousand"),  # AIM 4-2-8b (SEEN-2)
        (10_000, "ten thousand"),  # AIM 4-2-8b: when restated for clarity (SEEN-2)
        (10_500, "one zero thousand five hundred"),  # AIM 4-2-9 (SEEN-2)
        (13_500, "one three thousand five hundred"),  # AIM 4-2-8b (MEM)
        (2500, "two thousand five hundred"),  # CAP 413 2.13.2 Table 5 (SEEN-2)
        (11_000, "one one thousand"),  # CAP 413 2.13.2 Table 5 (SEEN-2)
    ],
)
def test_hundreds_and_thousands_are_grouped_as_published(whole: int, spoken: str) -> None:
    """The published grouping rules, each with its source above."""
    assert spoken in grouped(whole)


def test_only_open_groups_may_grow() -> None:
    """A digit after "twenty" or "hundred" makes another number; after "ten" or "twenty four" it cannot."""
    assert [words for words in map(cardinal, (10, 12, 20, 24, 100, 110, 120, 1000)) if may_grow(words)] == [
        "twenty",
        "one hundred",
        "one hundred twenty",
        "one thousand",
    ]
