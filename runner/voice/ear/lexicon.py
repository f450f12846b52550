"""How words are pronounced: radiotelephony forms, the CMU dictionary, and rules for what neither knows."""

import re
from collections.abc import Iterator, Mapping
from functools import cache
from itertools import product
from typing import Final

from runner.language.digit import RADIO_SPELLINGS
from runner.language.synonym import ways_to_say
from runner.voice.ear.dictionary import spellings_of
from runner.voice.ear.letter import LETTER_NAMES, sound_out
from runner.voice.ear.network_phone import phone_numbers

Pronunciation = tuple[int, ...]

# Spoken forms of ICAO Annex 10 Vol II 5.2.1.4.3 beside the everyday ones, and words CMUdict lacks
# or gives in one form only. Those it has are added to, not replaced.
_RADIO: Final[dict[str, tuple[str, ...]]] = {
    "zero": ("Z IH R OW", "Z IY R OW"),
    "three": ("TH R IY", "T R IY"),
    "four": ("F AO R", "F OW R", "F OW ER"),
    "five": ("F AY V", "F AY F"),
    "nine": ("N AY N", "N AY N ER"),
    "thousand": ("TH AW Z AH N D", "T AW Z AH N D"),
    "decimal": ("D EH S AH M AH L", "D EH S IH M AH L", "D EY S IY M AH L"),
    "twenty": ("T W EH N T IY", "T W EH N IY"),
    "affirm": ("AH F ER M", "EY F ER M"),
    "standby": ("S T AE N D B AY", "S T AE N B AY"),
    "gyro": ("JH AY R OW",),
    "ammeter": ("AE M IY T ER", "AE M AH T ER"),
    "annunciator": ("AH N AH N S IY EY T ER",),
    "of": ("AH V", "AH"),
    "and": ("AE N D", "AH N D", "AH N"),
    "amp": ("AE M P",),
    "amps": ("AE M P S",),
    "ampere": ("AE M P IH R", "AE M P EH R", "AE M P ER"),
    "amperes": ("AE M P IH R Z", "AE M P EH R Z", "AE M P ER Z"),
    "wilco": ("W IH L K OW",),
    "squawk": ("S K W AO K", "S K W AA K"),
}

_WORD: Final = re.compile(r"[a-z']+")


class Lexicon:
    """Pronunciations of any word; `pronounce` adds or replaces some (word to `T UW` spellings)."""

    def __init__(self, pronounce: Mapping[str, tuple[str, ...]] | None = None) -> None:
        self._own = {
            word.lower(): tuple(phone_numbers(spelling) for spelling in spellings)
            for word, spellings in (pronounce or {}).items()
        }

    def pronunciations(self, word: str) -> tuple[Pronunciation, ...]:
        """Every way to say a lower-case word; none at all when it has no letters to go by."""
        if word in self._own:
            return self._own[word]
        return _pronunciations(word)

    def spoken(self, phrase: str) -> tuple[tuple[Pronunciation, ...], ...]:
        """Each word's pronunciations in a phrase, those of words that mean the same there included."""
        return tuple(
            tuple(dict.fromkeys(sound for said in ways for sound in self._joined(said)))
            for ways in ways_to_say(phrase)
        )

    def _joined(self, words: str) -> Iterator[Pronunciation]:
        """Every way to say these words in one."""
        for parts in product(*map(self.pronunciations, words.split())):
            yield tuple(phone for part in parts for phone in part)


@cache
def _pronunciations(word: str) -> tuple[Pronunciation, ...]:
    spoken = RADIO_SPELLINGS.get(word, word)
    spellings = (*_RADIO.get(spoken, ()), *spellings_of(spoken))
    if not spellings and _WORD.fullmatch(spoken):
        spellings = _derived_spellings(spoken.replace("'", ""))
    return tuple(dict.fromkeys(phone_numbers(spelling) for spelling in spellings))


def _derived_spellings(word: str) -> tuple[str, ...]:
    """Pronounce an unknown word: two known words run together, or letter by sound."""
    if len(word) == 1:
        return (LETTER_NAMES[word],)
    for cut in range(len(word) - 3, 2, -1):
        first, second = spellings_of(word[:cut]), spellings_of(word[cut:])
        if first and second:
            return (f"{first[0]} {second[0]}",)
    return (sound_out(word),) if word else ()
