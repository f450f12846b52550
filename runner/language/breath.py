"""Breaths: what is said is cut so that none lasts longer than a listener keeps it in mind.

The length is estimated from the words alone, so that the same text is always cut alike.
`tests/bench/bench_prompt.py` holds the estimate against the rendered sound.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final

from runner.language.cardinal import NUMBER_WORDS

LONGEST_SECONDS: Final = 8.0
"""No breath lasts longer."""
MOST_TASKS: Final = 2
"""No breath asks for more."""

WORD_SECONDS: Final = 0.44
"""Of running text: more than the voice by default takes at its rate."""
SLOW_WORD_SECONDS: Final = 0.62
"""Of a number or a read-back: 97 words a minute."""
COMMA_SECONDS: Final = 0.2
"""At a comma, a colon or a semicolon."""
EDGE_SECONDS: Final = 0.3
"""Before a number, and behind it."""
PAUSE_SECONDS: Final = 0.25
"""Between two sentences."""

_SENTENCE_END: Final = re.compile(r"(?<=[.?!])\s+")
_CLAUSE_END: Final = re.compile(r"(?<=[,;:])\s+")


@dataclass(frozen=True, slots=True)
class Passage:
    """One sentence or more that are said for one reason."""

    text: str
    is_task: bool = False
    """Each of its sentences asks for something."""
    is_read_back: bool = False
    """It repeats what was recorded, at a hundred words a minute or less."""


def get_sentences(text: str) -> tuple[str, ...]:
    """The sentences of a text, marks kept."""
    return tuple(part for part in _SENTENCE_END.split(text.strip()) if part)


@lru_cache(maxsize=4096)
def spoken_seconds(text: str, *, is_read_back: bool = False) -> float:
    """How long the text lasts at the rate by default, rather too long than too short."""
    sentences = get_sentences(text)
    words = text.lower().split()
    are_slow = [is_read_back or word.strip(".,;:!?") in NUMBER_WORDS for word in words]
    slow = sum(are_slow)
    pauses = PAUSE_SECONDS * max(0, len(sentences) - 1)
    pauses += COMMA_SECONDS * len(_CLAUSE_END.findall(text))
    pauses += EDGE_SECONDS * sum(one != other for one, other in pairwise(are_slow))
    return slow * SLOW_WORD_SECONDS + (len(words) - slow) * WORD_SECONDS + pauses


@lru_cache(maxsize=4096)
def get_clauses(text: str, *, is_read_back: bool = False) -> tuple[str, ...]:
    """The sentences of a text, one that is too long for a breath cut at its commas."""
    clauses: list[str] = []
    for sentence in get_sentences(text):
        if spoken_seconds(sentence, is_read_back=is_read_back) <= LONGEST_SECONDS:
            clauses.append(sentence)
            continue
        begun = ""
        for clause in _CLAUSE_END.split(sentence):
            longer = f"{begun} {clause}".strip()
            if begun and spoken_seconds(longer, is_read_back=is_read_back) > LONGEST_SECONDS:
                clauses.append(begun)
                longer = clause
            begun = longer
        clauses.append(begun)
    return tuple(clauses)


def get_breaths(passages: Iterable[Passage], *, is_slower: bool = False) -> tuple[str, ...]:
    """The text in order, cut between sentences, or between clauses where a sentence is too long."""
    breaths: list[list[str]] = []
    seconds, tasks = 0.0, 0
    for passage in passages:
        is_slow = is_slower or passage.is_read_back
        for sentence in get_clauses(passage.text, is_read_back=is_slow):
            more = PAUSE_SECONDS + spoken_seconds(sentence, is_read_back=is_slow)
            is_full = seconds + more > LONGEST_SECONDS or tasks + passage.is_task > MOST_TASKS
            if not breaths or is_full:
                breaths.append([])
                seconds, tasks = 0.0, 0
            breaths[-1].append(sentence)
            seconds, tasks = seconds + more, tasks + passage.is_task
    return tuple(" ".join(sentences) for sentences in breaths)
