"""Words that mean the same and sound different."""

import pytest

from runner.language.spelling import normalise
from runner.language.synonym import SAME_WORD, ways_to_say


@pytest.mark.parametrize(
    ("phrase", "index", "ways"),
    [
        ("two zero four", 1, ("zero", "oh")),
        ("two four decimal zero", 3, ("zero", "oh")),
        ("two zero zero six", 2, ("zero", "oh")),
        ("zero three zero", 0, ("zero", "oh")),
        ("zero three zero", 2, ("zero", "oh")),
        ("two zero", 1, ("zero",)),
        ("zero", 0, ("zero",)),
        ("needle zero", 1, ("zero",)),
        ("one hundred twenty", 1, ("hundred", "hundred and")),
        ("one hundred volts", 1, ("hundred",)),
        ("five amps", 1, ("amps", "amperes")),
        ("amp meter", 0, ("amp", "ampere")),
        ("nine", 0, ("nine", "niner")),
    ],
)
def test_each_word_has_what_may_be_said_for_it(phrase: str, index: int, ways: tuple[str, ...]) -> None:
    """Zero is "oh" inside a number and at its ends; common practice, no source, like "hundred and"."""
    assert ways_to_say(phrase)[index] == ways


@pytest.mark.parametrize(
    "text",
    [
        "two oh six",
        "two oh oh six",
        "two four point oh",
        "two o six",
        "one hundred and twenty",
        "two thousand and five amperes",
        "niner fife fower tree tousand",
    ],
)
def test_what_the_normal_form_folds_is_among_the_ways(text: str) -> None:
    """Each text, word by word, can be put together from the ways to say its normal form."""
    left = {text.replace(" o ", " oh ")}
    for ways in ways_to_say(normalise(text)):
        left = {rest[len(way) :].strip() for rest in left for way in ways if f"{rest} ".startswith(f"{way} ")}
    assert "" in left


def test_every_word_that_stands_for_another_is_a_way_to_say_it() -> None:
    """But those that the normal form makes two words of, which sound the same as one."""
    for other, normal in SAME_WORD.items():
        if " " not in normal:
            assert other in ways_to_say(normal)[0]
