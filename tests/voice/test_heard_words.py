"""Every spelling that the language takes is heard: by its own sound, as the phrase that it means."""

from collections.abc import Iterator
from decimal import Decimal
from itertools import islice, product

import numpy as np
import pytest

from runner.language.catalogue import Unit, Word
from runner.language.number import spoken_forms
from runner.language.spelling import normalise
from runner.language.synonym import SAME_WORD
from runner.voice.ear.decode import decode
from runner.voice.ear.dictionary import dictionary_words
from runner.voice.ear.graph import phrase_graph
from runner.voice.ear.lexicon import Lexicon
from runner.voice.ear.network_phone import BLANK, OUTPUTS, phone_numbers

DICTIONARY = dictionary_words()
RADIO = {
    # ICAO Annex 10 Vol II 5.2.1.4.3, its respellings in ARPAbet
    "tree": "T R IY",
    "fower": "F OW ER",
    "fife": "F AY F",
    "niner": "N AY N ER",
    "tousand": "T AW Z AH N D",
    # two dictionary words run together
    "readback": "R EH D B AE K",
    # not in the dictionary: British and American dictionaries, from memory
    "amp": "AE M P",
    "amps": "AE M P S",
    "ampere": "AE M P IH R",
    "amperes": "AE M P IH R Z",
    "wilco": "W IH L K OW",
}
NUMBERS = ("0", "0.5", "4", "10", "20.4", "24.0", "24.6", "30", "100", "107", "120", "205", "1005", "-6")
OTHERS = ("two four", "left out", "standby", "nine", "two zero four decimal one", "one hundred")


def texts() -> Iterator[str]:
    """All that may be written for a phrase: words, their other spellings, numbers in every form."""
    yield from (text for word in Word for text in word.phrases)
    yield from SAME_WORD
    yield from (f"five {unit}" for unit in ("ampere", "amperes", "amps", "per cent", "percent"))
    yield from ("stand by", "stand-by", "read back", "two oh six", "two o oh six", "two four point oh")
    yield from ("one hundred and twenty", "two thousand and five", "oh two", "bus one oh", "niner fife")
    yield from ("oh three oh", "one four eight oh")
    for written, unit in product(NUMBERS, Unit):
        yield from spoken_forms(Decimal(written), unit, Decimal("0.1"))


def sounds(text: str) -> Iterator[list[int]]:
    """How the words as written are said, by the dictionary alone (four ways at most)."""
    words = text.replace("-", " ").split()
    ways = [
        [phone_numbers(RADIO[word])] if word in RADIO else
        [phone_numbers(" ".join(way)) for way in DICTIONARY[word][:2]]
        for word in words
    ]  # fmt: skip
    for said in islice(product(*ways), 4):
        yield [phone for word in said for phone in word]


def said(phones: list[int]) -> np.ndarray:
    """Posteriors of somebody who says these phones and nothing else, very clearly."""
    frames = np.full(3 * len(phones) + 4, BLANK)
    frames[2:-2:3] = frames[3:-1:3] = phones
    return np.asarray(np.log(np.eye(OUTPUTS, dtype=np.float32)[frames] * 0.96 + 0.001), np.float32)


@pytest.mark.parametrize("text", dict.fromkeys(texts()))
def test_a_spelling_is_heard_by_its_own_sound(text: str) -> None:
    """Said exactly as written, it comes out as its normal form and no phone of it is missed."""
    lexicon, phrase = Lexicon(), means(text)
    graph = phrase_graph((phrase, *(other for other in OTHERS if other != phrase)), lexicon)
    for phones in sounds(text):
        found = decode(said(phones), graph)
        assert found is not None
        assert found.text == phrase
        assert found.shortfalls.max() == pytest.approx(0.0, abs=1e-4)


def means(text: str) -> str:
    """The phrase in force; numbers that begin or end with "oh" are in force with zeros."""
    return {"oh three oh": "zero three zero", "one four eight oh": "one four eight zero"}.get(
        text, normalise(text)
    )
