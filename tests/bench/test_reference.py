"""The grammar that PocketSphinx is given."""

from tests.bench.ear.reference import grammar


def test_phrases_share_their_beginnings() -> None:
    """JSGF: round brackets group, square ones may be left out (JSpeech Grammar Format, W3C note of 2000)."""
    assert grammar(["two four", "two five volts", "two five"]) == "two ( four | five [ volts ] )"


def test_a_phrase_that_begins_another_may_stand_alone() -> None:
    """What follows it is in square brackets."""
    assert grammar(["hold checklist", "hold"]) == "hold [ checklist ]"


def test_phrases_that_share_nothing_are_alternatives() -> None:
    """In their order, each once."""
    assert grammar(["yes", "no", "yes"]) == "yes | no"
