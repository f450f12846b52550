"""PURE: lines found in the raw bytes of a database file, whatever became of the file's own structure.

A stored row holds the line's text and right behind it its hash, so each line that is found proves itself.
"""

import re
from collections.abc import Iterator
from typing import Final

from runner.errors import RecordError
from runner.logbook.record.chain import ChainLine, read_line

_START: Final = b'{"body":'
_END: Final = re.compile(rb',"sequence":\d+\}(?=([0-9a-f]{64}))')


def find_lines(data: bytes) -> Iterator[ChainLine]:
    """Every line of the bytes whose hash stands behind it and matches, once each, in the order found."""
    seen: set[str] = set()
    after = 0
    for end in _END.finditer(data):
        kept = end.group(1).decode()
        start = data.rfind(_START, after, end.start())
        if start < 0 or kept in seen:
            continue
        line = _proven(data[start : end.end()], kept)
        if line is not None:
            seen.add(kept)
            after = end.end()
            yield line


def _proven(raw: bytes, kept: str) -> ChainLine | None:
    try:
        line = read_line(raw.decode())
    except (RecordError, UnicodeDecodeError):
        return None
    return line if line.digest == kept else None
