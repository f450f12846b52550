"""PURE: runs out of their stored lines, many together, each line proven; as rows of the summaries' tables."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from itertools import accumulate, chain
from typing import Any, Final, NamedTuple

from runner.core.record.answer_history import RunState, end_in
from runner.core.record.given_answer import AnswerKind, answer_in, superseded_in
from runner.language.catalogue import Outcome
from runner.logbook.proof.stored_line import (
    ANSWER,
    NO_ANSWER,
    OddError,
    entry_in,
    header_in,
    json_row,
    read_lines,
)
from runner.logbook.record.chain import START
from runner.logbook.record.header import RunHeader
from runner.logbook.record.summary_table import answer_row, run_row

TEXTS: Final = ("item", "series", "registration", "kind", "answer", "unit", "outcome")
"""The columns of the answers' table that hold text."""
FIGURES: Final = ("value", "at", "response_seconds", "is_hasty")
"""The others, but for the run's number."""
_READING: Final = AnswerKind.READING.value
_NAMED: Final = AnswerKind.NAMED.value

Rows = Sequence[tuple[Any, ...]]


@dataclass(frozen=True, slots=True)
class ProvenRun:
    """One run: its header, how it ended, and the columns of its answers that stand."""

    number: int
    header: RunHeader
    state: RunState
    ended_at: float | None
    items: tuple[str, ...]
    """What has an answer that stands, in the order of the table."""
    columns: Mapping[str, Sequence[Any]]

    def row(self) -> tuple[Any, ...]:
        """Its row in the table of runs, number first."""
        outcomes = self.columns["outcome"]
        counts = outcomes.count(Outcome.CAUTION), outcomes.count(Outcome.SQUAWK)
        return self.number, *run_row(self.header, self.state, self.ended_at, *counts)

    def texts(self) -> tuple[Any, ...]:
        """The texts of its answers, number first, each column as JSON."""
        texts = {
            "item": self.items,
            "series": tuple(map(self.header.series.get, self.items, self.items)),
            "registration": (self.header.registration,) * len(self.items),
            **self.columns,
        }
        return (self.number, *(json_row(texts[name]) for name in TEXTS))

    def figures(self) -> Iterator[tuple[Any, ...]]:
        """The numbers of its answers, row by row."""
        return zip(*(self.columns[name] for name in FIGURES), strict=True)


class Other(NamedTuple):
    """In place of a line's item: what an entry does to an item that is no plain answer."""

    item: str
    is_gone: bool
    """Its answer stands no longer; else this entry is one."""


Key = str | Other | None
"""What a line does: a plain answer of an item, something else, or nothing."""


def proven_runs(chains: Rows, stored: Rows) -> list[ProvenRun]:
    """The runs of rows (number, id, length, hash) and rows (number, texts, sequences, hashes, text).

    OddError, or whatever reading an odd value raises, when any of it is not proven.
    """
    for (number, _, length, _), (owner, texts, sequences, *_) in zip(chains, stored, strict=True):
        if (owner, texts, sequences) != (number, length, _counted(length)):
            raise OddError
    ends = list(accumulate(row[2] for row in chains))
    spans = [slice(*span) for span in zip([0, *ends], ends, strict=False)]
    text = b"\n".join([*(row[4] for row in stored), b""])
    texts = text.split(b"\n")
    texts.pop()
    if len(texts) != ends[-1]:
        raise OddError
    lines = read_lines(text)
    _require_chained(chains, stored, spans, texts, lines)
    return list(_runs(chains, spans, [line.body for line in lines]))


@lru_cache(maxsize=1000)
def _counted(length: int) -> str:
    return f"[{','.join(map(str, range(length)))}]"


def _require_chained(
    chains: Rows, stored: Rows, spans: Sequence[slice], texts: Sequence[bytes], lines: Sequence[Any]
) -> None:
    """OddError when a line does not fit its hash, or does not follow from the one before."""
    hashes = [sha256(text).hexdigest() for text in texts]
    previous = [START, *hashes[:-1]]
    for (_, _, _, end), (*_, kept, _), span in zip(chains, stored, spans, strict=True):
        previous[span.start] = START
        if hashes[span.stop - 1] != end or json_row(hashes[span]) != kept:
            raise OddError
    found = (
        [line.previous for line in lines],
        [line.chain for line in lines],
        [line.sequence for line in lines],
    )
    names = chain.from_iterable((name,) * length for _, name, length, _ in chains)
    places = chain.from_iterable(range(row[2]) for row in chains)
    if found != (previous, list(names), list(places)):
        raise OddError


def _runs(chains: Rows, spans: Sequence[slice], bodies: Sequence[Any]) -> Iterator[ProvenRun]:
    for (number, name, *_), span in zip(chains, spans, strict=True):
        header = header_in(bodies[span.start])
        if header.run != name:
            raise OddError
        yield _run(number, header, bodies[span.start + 1 : span.stop])


def _run(number: int, header: RunHeader, bodies: Sequence[Any]) -> ProvenRun:
    keys: list[Key] = [body.item if type(body) is ANSWER else None for body in bodies]
    state, ended_at = RunState.OPEN, None
    rows: dict[int, Sequence[object]] = {}
    for place, body in enumerate(bodies):
        if keys[place] is not None:
            continue
        entry = entry_in(body)
        if (answer := answer_in(entry)) is not None:
            keys[place] = Other(answer.item, is_gone=False)
            rows[place] = answer_row(number, header, answer)
        elif (gone := superseded_in(entry)) is not None:
            keys[place] = Other(gone, is_gone=True)
        elif (end := end_in(entry)) is not None:
            state, ended_at = end, entry.at
    order = _order(tuple(keys))
    columns = _columns([bodies[place] if place not in rows else NO_ANSWER for place in order.places])
    for index, place in order.taken:
        for column, value in zip(columns.values(), rows[place][-len(columns) :], strict=True):
            column[index] = value
    return ProvenRun(number, header, state, ended_at, order.items, columns)


class Order(NamedTuple):
    """Which answers of a run stand, in the order of the table: by item, as UTF-8 and SQLite sort."""

    items: tuple[str, ...]
    places: tuple[int, ...]
    """The line of each."""
    taken: tuple[tuple[int, int], ...]
    """Index and place of those that are no plain answers."""


@lru_cache(maxsize=1000)
def _order(keys: tuple[Key, ...]) -> Order:
    last: dict[str, int] = {}
    for place, key in enumerate(keys):
        if isinstance(key, str):
            last[key] = place
        elif key is not None:
            last[key.item] = place
            if key.is_gone:
                del last[key.item]
    items = tuple(sorted(last))
    places = tuple(last[item] for item in items)
    taken = tuple((index, place) for index, place in enumerate(places) if isinstance(keys[place], Other))
    return Order(items, places, taken)


def _columns(answers: Sequence[Any]) -> dict[str, list[Any]]:
    """What the table has of each plain answer, in the order of its columns."""
    words, units = [answer.answer for answer in answers], [answer.unit for answer in answers]
    return {
        "kind": [_READING if unit else _NAMED for unit in units],
        "answer": words,
        "value": [float(word) if unit else None for word, unit in zip(words, units, strict=True)],
        "unit": units,
        "outcome": [answer.outcome for answer in answers],
        "at": [answer.onset_at for answer in answers],
        "response_seconds": [answer.response_seconds for answer in answers],
        "is_hasty": [answer.is_hasty for answer in answers],
    }
