import random

from runner.logbook.proof.raw_line import find_lines
from runner.logbook.record.chain import ChainLine, header_line, next_line


def _lines(count: int) -> list[ChainLine]:
    lines = [header_line("run-1", {"kind": "run", "note": 'holds {"body": and "sequence":5}'})]
    while len(lines) < count:
        lines.append(next_line(lines[-1], {"at": len(lines), "text": "é" * len(lines)}))
    return lines


def _stored(line: ChainLine) -> bytes:
    return (line.text + line.digest).encode()


def test_lines_are_found_between_any_bytes() -> None:
    """Noise before, between and behind; each comes once though it is there twice."""
    dice = random.Random(1)
    lines = _lines(20)
    data = b"".join(dice.randbytes(50) + _stored(line) for line in [*lines, *lines])
    assert list(find_lines(data)) == lines


def test_a_torn_line_is_left_out_and_does_not_hide_the_next() -> None:
    """Its beginning is there, its end is not."""
    one, two, three = _lines(3)
    data = _stored(one) + _stored(two)[:60] + _stored(three)
    assert list(find_lines(data)) == [one, three]


def test_a_line_without_its_hash_proves_nothing() -> None:
    """Text that looks like a line, with another hash behind it."""
    one, two, _ = _lines(3)
    assert list(find_lines(one.text.encode() + two.digest.encode())) == []
    assert list(find_lines(one.text.encode())) == []
