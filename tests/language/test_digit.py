import pytest

from runner.language.digit import RADIO_PRONUNCIATIONS, RADIO_SPELLINGS, spell
from runner.language.phone import PHONES
from runner.language.spelling import normalise

# Status of a source: SEEN-2 quoted by another source, MEM from memory, derived by applying the rule.

# (SEEN-2) ICAO Annex 10 Vol II 5.2.1.4.3.1, Doc 9432 2.4, as quoted in ISED RIC-22 4.3; FAA JO
# 7110.65 TBL 2-4-1 and AIM TBL 4-2-2 have the same words, "point" for the decimal, and (AIM) ZEE-RO for zero.
FIGURES = {
    "0": "zero",
    "1": "one",
    "2": "two",
    "3": "three",
    "4": "four",
    "5": "five",
    "6": "six",
    "7": "seven",
    "8": "eight",
    "9": "nine",
    ".": "decimal",
}

# The respelled pronunciations of the same tables, as ARPAbet: ZE-RO or ZEE-RO, TREE, FOW-er, FIFE, NIN-er,
# DAY-SEE-MAL, TOU-SAND. The transcription into ARPAbet is this project's.
RESPELLED = {
    "zero": "Z IY R OW",
    "three": "T R IY",
    "four": "F OW ER",
    "five": "F AY F",
    "nine": "N AY N ER",
    "decimal": "D EY S IY M AH L",
    "thousand": "T AW Z AH N D",
}


@pytest.mark.parametrize(("figure", "word"), FIGURES.items())
def test_a_figure_is_spelled_with_its_icao_word(figure: str, word: str) -> None:
    """Each figure has the one word of the ICAO table."""
    assert spell(figure) == word


@pytest.mark.parametrize(
    ("written", "plain"),
    [("tree", "three"), ("fower", "four"), ("fife", "five"), ("niner", "nine"), ("tousand", "thousand")],
)
def test_a_radio_spelling_is_the_plain_word(written: str, plain: str) -> None:
    """TREE, FOW-er, FIFE, NIN-er, TOU-SAND (Annex 10 Vol II 5.2.1.4.3.1, SEEN-2) become plain words."""
    assert RADIO_SPELLINGS[written] == plain
    assert normalise(written.upper()) == plain


@pytest.mark.parametrize(("word", "phones"), RESPELLED.items())
def test_a_radio_pronunciation_is_there_for_the_ear(word: str, phones: str) -> None:
    """The pronunciations that a general dictionary lacks are given (same tables, SEEN-2)."""
    assert phones in RADIO_PRONUNCIATIONS[word]


def test_the_pronunciations_are_arpabet() -> None:
    """Each phone of the table is one of the 39."""
    phones = {
        phone for sounds in RADIO_PRONUNCIATIONS.values() for sound in sounds for phone in sound.split()
    }
    assert phones <= PHONES.keys()


def test_a_written_number_is_spelled_in_order() -> None:
    """24.6 is "two four decimal six": ICAO's rule applied (derived)."""
    assert spell("24.6") == "two four decimal six"
    assert spell("-5") == "minus five"
