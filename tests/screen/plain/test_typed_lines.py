"""Lines from a pipe, as from a terminal."""

import io
import os
import threading

from runner.screen.plain.typed_lines import TypedLines


def read(*pieces: bytes) -> list[str]:
    """The lines of what comes in these pieces."""
    reading, typing = os.pipe()
    with os.fdopen(reading, encoding="utf-8") as stream:
        for piece in pieces:
            os.write(typing, piece)
        os.close(typing)
        return list(TypedLines(stream))


def test_lines_come_whole_however_they_arrive() -> None:
    """In pieces, several at once, the last without its end, a letter of two bytes cut in half."""
    assert read(b"cont", b"inue\nT\nf\xc3", b"\xbcnf\n", b"Q") == ["continue", "T", "fünf", "Q"]


def test_an_empty_line_is_a_line_and_the_end_is_none() -> None:
    """Enter alone ends a note."""
    assert read(b"\n \n") == ["", " "]
    assert read() == []


def test_a_read_that_waits_ends_when_it_is_told_to() -> None:
    """From another thread, with nothing typed."""
    reading, typing = os.pipe()
    with os.fdopen(reading, encoding="utf-8") as stream:
        lines, found = TypedLines(stream), list[str]()
        waiting = threading.Thread(target=lambda: found.extend(lines))
        waiting.start()
        lines.stop()
        waiting.join(10.0)
        assert not waiting.is_alive()
        assert found == []
    os.close(typing)


def test_what_is_no_file_is_read_as_it_is() -> None:
    """Text in memory cannot be waited for; told to stop, it gives no more."""
    lines = TypedLines(io.StringIO("a\nb\n"))
    found = []
    for line in lines:
        found.append(line)
        lines.stop()
    assert found == ["a\n"]
