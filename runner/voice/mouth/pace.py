"""Pace: numbers and read-backs are spoken word by word, at 100 words a minute or fewer.

ICAO Annex 10 Volume II 5.2.1.5.3 (from memory): an even rate not exceeding 100 words a minute,
with a pause around numbers that will be written down.
A run of number words is found by itself; its unit is spoken in one piece with the last of its digits,
since a unit alone is hard to understand.
The words of a read-back are spoken by twos, each two in the voice's own flow and followed by a pause.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Final

import numpy as np

from runner.language.cardinal import NUMBER_WORDS
from runner.language.catalogue import Unit
from runner.language.digit import RADIO_SPELLINGS
from runner.voice.port import Samples, Sound, Voice
from runner.voice.sound import resample

SLOT_SECONDS: Final = 0.62
"""From the start of a slow word to the start of the next: 97 words a minute."""
GAP_SECONDS: Final = 0.08
"""At least so much silence between slow words, however long they are."""
PAUSE_SECONDS: Final = 0.3
"""Silence around a slow run."""

SLOW_WORDS: Final = NUMBER_WORDS | frozenset(RADIO_SPELLINGS)
"""Words that a number is made of."""
TOGETHER: Final = 2
"""So many words of a read-back are spoken in one go."""
UNIT_WORDS: Final = frozenset(
    {*Unit, *(unit.singular for unit in Unit), "minute", "minutes", "hour", "hours"}
)


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of a prompt to be spoken in one go: running text, or one slow word with its unit."""

    text: str
    is_slow: bool

    @property
    def words(self) -> int:
        """How many words it has."""
        return len(self.text.split())


def get_pieces(text: str, *, is_read_back: bool = False) -> tuple[Piece, ...]:
    """Cut a prompt into running text and slow words, in order; in a read-back everything is slow."""
    pieces: list[Piece] = []
    for is_slow, run in groupby(_mark_numbers(text.split()), key=lambda word: word[1]):
        words = [word for word, _ in run]
        if is_slow:
            pieces.extend(Piece(_with_pause(word), is_slow=True) for word in _with_unit(words))
        elif is_read_back:
            pieces.extend(Piece(_with_pause(some), is_slow=True) for some in _by_twos(words))
        else:
            pieces.append(Piece(" ".join(words), is_slow=False))
    return tuple(pieces)


class PacedVoice:
    """A voice that speaks numbers, or read-backs, at radio pace; the pieces come from another voice."""

    def __init__(self, voice: Voice, *, is_read_back: bool = False) -> None:
        self._voice, self._is_read_back = voice, is_read_back

    @property
    def name(self) -> str:
        """The voice's own name and how it is paced."""
        return f"{self._voice.name}, paced{' as a read-back' if self._is_read_back else ''}"

    def render(self, text: str) -> Sound:
        """The whole prompt, at the sample rate of its first piece.

        In a read-back the rest of the last piece's slot comes before it, so that the pace holds to the end.
        """
        pieces = get_pieces(text, is_read_back=self._is_read_back)
        sounds = [self._voice.render(piece.text) for piece in pieces]
        if not sounds:
            return self._voice.render("")
        rate = sounds[0].rate
        laid = [resample(sound, rate).samples for sound in sounds]
        parts: list[Samples] = []
        for n, (piece, samples) in enumerate(zip(pieces, laid, strict=True)):
            after = pieces[n + 1] if n + 1 < len(pieces) else None
            parts += [samples, _get_silence(piece, after, len(samples), rate)]
            if self._is_read_back and n + 2 == len(pieces):
                parts.append(_get_silence(pieces[-1], pieces[-1], len(laid[-1]), rate))
        return Sound(np.concatenate(parts), rate)


def _get_silence(piece: Piece, after: Piece | None, count: int, rate: int) -> Samples:
    """What follows a piece: the rest of its slot, a pause at the edge of a run, or nothing at the end."""
    if after is None:
        seconds = 0.0
    elif piece.is_slow and after.is_slow:
        seconds = max(GAP_SECONDS, piece.words * SLOT_SECONDS - count / rate)
    else:
        seconds = PAUSE_SECONDS
    return np.zeros(round(seconds * rate), np.float32)


def _by_twos(words: list[str]) -> Iterator[str]:
    """Two words and two, none across a comma or a colon."""
    some: list[str] = []
    for word in words:
        some.append(word)
        if len(some) == TOGETHER or word[-1] in ",:;":
            yield " ".join(some)
            some = []
    if some:
        yield " ".join(some)


def _with_unit(words: list[str]) -> list[str]:
    """The words of a number, its unit joined to the digit before it."""
    joined: list[str] = []
    for word in words:
        if joined and _bare(word) in UNIT_WORDS and _bare(joined[-1]) in SLOW_WORDS:
            joined[-1] = f"{joined[-1]} {word}"
        else:
            joined.append(word)
    return joined


def _mark_numbers(words: list[str]) -> Iterator[tuple[str, bool]]:
    """Number words and units are slow where two or more stand together: `bus one` is not a number."""
    for is_number, run in groupby(words, key=_is_number):
        together = list(run)
        counts = is_number and len(together) > 1 and _bare(together[0]) in SLOW_WORDS
        yield from ((word, counts) for word in together)


def _is_number(word: str) -> bool:
    return _bare(word) in SLOW_WORDS or _bare(word) in UNIT_WORDS


def _bare(word: str) -> str:
    return word.lower().strip(".,;:!?")


def _with_pause(word: str) -> str:
    """A word that ends a sentence falls; any other is spoken as in a list."""
    return word if word[-1] in ".!?" else f"{word.rstrip(',;:')},"
