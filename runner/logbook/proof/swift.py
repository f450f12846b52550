"""Finds the runs that are whole in the usual way, many at a time; whatever is odd is left to a closer look.

It proves as much as `verify.py` does one by one: the hash of each stored text, what each line carries of the
line before, the canonical form of each entry, the files' texts, and that the summaries agree. It says which
runs it could not prove, and never why.
"""

import re
import sqlite3
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from itertools import repeat
from operator import itemgetter
from typing import Any, Final

from runner.checklist.format.check import Outcome
from runner.core.record.answer_history import AnswerHistory, Ending
from runner.core.record.codec import KINDS, assembled, from_json, stored_fields
from runner.core.record.entry import AnswerRecorded, Entry
from runner.core.record.given_answer import AnswerKind, answer_in, superseded_in
from runner.errors import RecordError
from runner.logbook.record.chain import SCHEMA, START, canonical, digest, read_line
from runner.logbook.record.header import KIND, RunHeader, read_header
from runner.logbook.record.summary_table import ANSWER_COLUMNS, RUN_COLUMNS, answer_row, run_row

BLOCK: Final = 1000
"""Runs that are looked at together."""

_PLAIN_TEXT: Final = r'"([^"\\\x00-\x1f]*)"'
_NUMBER: Final = r"(-?(?:0|[1-9][0-9]*)\.(?:[0-9]*[1-9]|0))"
_SHORT: Final = 6
"""Characters up to which such a number is in canonical form: the shortest that gives the same value."""
_VALUES: Final[Mapping[object, str]] = {
    str: _PLAIN_TEXT,
    float: _NUMBER,
    float | None: "(null|" + _NUMBER[1:],
    bool: "(true|false)",
    Outcome: f'"({"|".join(outcome.value for outcome in Outcome)})"',
}
_NUMBERS: Final = (float, float | None)


def _fields_of(entry_type: type[Entry]) -> list[tuple[str, object]]:
    return sorted(stored_fields(entry_type).items(), key=itemgetter(0))


def _pattern(kind: str, entry_type: type[Entry]) -> re.Pattern[str]:
    """How an entry of a kind stands in canonical JSON when it needs no escapes and has only common types."""
    parts = [(name, _VALUES.get(hint, "(?!)")) for name, hint in _fields_of(entry_type)]
    body = ",".join(f'"{name}":{value}' for name, value in sorted([*parts, ("kind", f'"{kind}"')]))
    return re.compile(rf'\{{"body":\{{{body}\}},"chain":')


_ANSWER: Final = _pattern("answer recorded", AnswerRecorded)
_ANSWER_FIELDS: Final = [name for name, _ in _fields_of(AnswerRecorded)]
_PLACES: Final = tuple(
    _ANSWER_FIELDS.index(name)
    for name in ("item", "answer", "unit", "outcome", "onset_at", "response_seconds", "is_hasty")
)
_ANSWER_NUMBERS: Final = tuple(
    place for place, (_, hint) in enumerate(_fields_of(AnswerRecorded)) if hint in _NUMBERS
)
_KIND: Final = re.compile(r'"kind":"([a-z ]+)"')
_READING: Final = AnswerKind.READING.value
_NAMED: Final = AnswerKind.NAMED.value
Row = tuple[Any, ...]
"""An answer as its table has it, without the run's number and the item."""
_OUTCOME: Final = 6
"""Where an answer's outcome stands in its row."""


class OddError(Exception):
    """Not whole in the usual way: to be looked at more closely."""


@dataclass(slots=True)
class Swift:
    """One pass over the runs of a logbook that is held still."""

    connection: sqlite3.Connection
    texts: dict[str, bool] = field(default_factory=dict)

    def doubtful(self, first: int, last: int) -> list[int]:
        """Numbers of the runs' chains between these two (included) that are to be looked at more closely."""
        found: list[int] = []
        for span in self._spans(first, last):
            try:
                found += self._block(span)
            except (sqlite3.Error, UnicodeDecodeError, MemoryError):
                found += self._numbers(*span)
        return found

    def _spans(self, first: int, last: int) -> Iterator[tuple[int, int]]:
        numbers = self._numbers(first, last)
        for start in range(0, len(numbers), BLOCK):
            block = numbers[start : start + BLOCK]
            yield block[0], block[-1]

    def _numbers(self, first: int, last: int) -> list[int]:
        query = f"SELECT number FROM chain WHERE kind = '{KIND}' AND number {_SPAN} ORDER BY number"  # noqa: S608 - constants of this module, as below
        return [row[0] for row in self.connection.execute(query, (first, last))]

    def _rows(self, query: str, span: tuple[int, int]) -> list[Any]:
        return self.connection.execute(query, span).fetchall()

    def _block(self, span: tuple[int, int]) -> Iterator[int]:
        chains = self._rows(_CHAINS, span)
        lines = {row[0]: row[1:] for row in self._rows(_LINES, span)}
        runs = {row[0]: row[1:] for row in self._rows(_RUNS, span)}
        answers: dict[int, dict[str, Row]] = {}
        for row in self._rows(_ANSWERS, span):
            answers.setdefault(row[0], {})[row[1]] = row[2:]
        for number, *end in chains:
            try:
                self._prove(tuple(end), lines.get(number), runs.get(number), answers.get(number, {}))
            except (OddError, RecordError, ValueError, TypeError, KeyError, ArithmeticError, AttributeError):
                yield number

    def _prove(
        self,
        end: tuple[Any, ...],
        lines: tuple[str, str, str] | None,
        run: Row | None,
        answers: Mapping[str, Row],
    ) -> None:
        if lines is None or run is None:
            raise OddError
        texts = _whole_texts(end, *lines)
        header = read_header(read_line(texts[0]).body)
        self._require(header.check_sha256)
        self._require(header.airplane_sha256)
        found, truth = _stand(texts[1:], header)
        if header.run != end[0] or found != answers:
            raise OddError
        outcomes = [row[_OUTCOME] for row in found.values()]
        counts = (outcomes.count(Outcome.CAUTION.value), outcomes.count(Outcome.SQUAWK.value))
        if run != run_row(header, truth.state, truth.ended_at, *counts):
            raise OddError

    def _require(self, sha: str) -> None:
        if sha not in self.texts:
            found = self.connection.execute("SELECT text FROM snapshot WHERE sha256 = ?", (sha,)).fetchone()
            self.texts[sha] = found is not None and digest(found[0]) == sha
        if not self.texts[sha]:
            raise OddError


_SPAN: Final = "BETWEEN ? AND ?"
_CHAINS: Final = f"SELECT number, id, length, digest FROM chain WHERE kind = '{KIND}' AND number {_SPAN}"  # noqa: S608
_LINES: Final = (
    "SELECT chain, group_concat(sequence), group_concat(text, char(10)), group_concat(digest, '') "  # noqa: S608
    f"FROM line WHERE chain {_SPAN} GROUP BY chain"
)
_RUNS: Final = f"SELECT number, {RUN_COLUMNS} FROM run WHERE number {_SPAN}"  # noqa: S608
_ANSWERS: Final = f"SELECT {ANSWER_COLUMNS} FROM answer WHERE run {_SPAN}"  # noqa: S608


def _whole_texts(end: tuple[Any, ...], sequences: str, text: str, digests: str) -> list[str]:
    """The texts of a chain's lines when each is proven by its hash and follows from the one before."""
    name, length, kept = end
    texts = text.split("\n")
    hashes = [sha256(each.encode()).hexdigest() for each in texts]
    if len(texts) != length or "".join(hashes) != digests or hashes[-1] != kept:
        raise OddError
    if sequences != ",".join(map(str, range(length))):
        raise OddError
    chain = canonical(name)
    ends = [
        f'}},"chain":{chain},"previous":"{before}","schema":{SCHEMA},"sequence":{number}}}'
        for number, before in enumerate([START, *hashes[:-1]])
    ]
    if not all(map(str.endswith, texts, ends)):
        raise OddError
    return texts


def _stand(texts: list[str], header: RunHeader) -> tuple[dict[str, Row], AnswerHistory]:
    """The rows of the answers that stand, by item, and how the run ended: its history on canonical text."""
    matches = list(map(_ANSWER.match, texts))
    answered = _answers([match.groups() for match in matches if match is not None], header)
    rows: dict[str, Row] = {}
    ended: Ending | None = None
    for text, match in zip(texts, matches, strict=True):
        if match is not None:
            item, row = next(answered)
            rows[item] = row
            continue
        entry = _entry(text)
        if (answer := answer_in(entry)) is not None:
            rows[answer.item] = tuple(answer_row(0, header, answer)[2:])
        elif (gone := superseded_in(entry)) is not None:
            rows.pop(gone, None)
        elif isinstance(entry, Ending):
            ended = entry
    return rows, AnswerHistory(ended=ended)


def _answers(groups: list[tuple[str, ...]], header: RunHeader) -> Iterator[tuple[str, Row]]:
    """Item and row of each answer, in their order; column by column, since there are millions."""
    if not groups:
        return iter(())
    columns = list(zip(*groups, strict=True))
    numbers = {place: _canonical_numbers(columns[place]) for place in _ANSWER_NUMBERS}
    items, answers, units, outcomes, at, seconds, hasty = _PLACES
    rows = zip(
        map(header.series.get, columns[items], columns[items]),
        repeat(header.registration),
        [_READING if unit else _NAMED for unit in columns[units]],
        columns[answers],
        [
            float(answer) if unit else None
            for answer, unit in zip(columns[answers], columns[units], strict=True)
        ],
        columns[units],
        columns[outcomes],
        numbers[at],
        numbers[seconds],
        [word == "true" for word in columns[hasty]],
        strict=False,
    )
    return zip(columns[items], rows, strict=True)


def _canonical_numbers(column: tuple[str, ...]) -> list[float | None]:
    """The numbers of a column, None for null; each must be written as JSON is written here."""
    if "null" in column:
        return [None if word == "null" else _canonical_numbers((word,))[0] for word in column]
    numbers = list(map(float, column))
    if max(map(len, column)) > _SHORT and tuple(map(repr, numbers)) != column:
        raise OddError
    return list(numbers)


_OTHERS: Final = {kind: (_pattern(kind, kept), _fields_of(kept), kept) for kind, (kept, _) in KINDS.items()}


def _entry(text: str) -> Entry:
    """Any other entry: read off its text where that is plain, else in full."""
    kind = _KIND.search(text)
    known = None if kind is None else _OTHERS.get(kind[1])
    match = None if known is None else known[0].match(text)
    if known is None or match is None:
        return from_json(read_line(text).body)
    values = {name: _value(raw, hint) for (name, hint), raw in zip(known[1], match.groups(), strict=True)}
    entry: Entry = assembled(known[2], values)
    return entry


def _value(raw: str, hint: object) -> object:
    if hint is str:
        return raw
    if hint is bool:
        return raw == "true"
    if hint is Outcome:
        return Outcome(raw)
    return _canonical_numbers((raw,))[0]
