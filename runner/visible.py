r"""PURE: people's words made safe to show: what would steer a terminal, a page or an eye is written out.

Control characters (ECMA-48), bidirectional controls (Unicode Standard Annex 9), other invisible formatting,
line separators and halves of characters become `\u001b` and the like, which is also what they are in JSON.
"""

import re
from collections.abc import Iterable
from dataclasses import fields, is_dataclass, replace
from enum import StrEnum
from textwrap import wrap
from typing import Any, Final, TextIO

_STEERING: Final = (
    "\x00-\x1f\x7f-\x9f"  # controls, ESC, BEL, DEL, C1
    "\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"  # bidirectional controls
    "\u200b\u2028\u2029\u2060-\u2064\u206a-\u206f\ufeff\ufff9-\ufffb"  # invisible, separators, annotations
    "\ud800-\udfff"  # halves of characters, which no UTF-8 can write
    "\U000e0000-\U000e007f"  # tags
)
"""Joiners (U+200C, U+200D) and the soft hyphen stay: words of several scripts need them."""
_BEYOND: Final = 0x10000
"""The first character that JSON writes as two escapes."""
_ALL: Final = re.compile(f"[{_STEERING}]")
_BUT_LINES: Final = re.compile(f"(?![\\n\\t])[{_STEERING}]")


def visible(words: str) -> str:
    """One line of words with every steering character written out."""
    return _ALL.sub(_written_out, words)


def visible_lines(text: str) -> str:
    """The same for a text of several lines: line ends and tabs stay."""
    return _BUT_LINES.sub(_written_out, text)


def _written_out(found: re.Match[str]) -> str:
    code = ord(found[0])
    if code < _BEYOND:
        return f"\\u{code:04x}"
    high, low = divmod(code - _BEYOND, 0x400)
    return f"\\u{0xD800 + high:04x}\\u{0xDC00 + low:04x}"


def visible_in(value: Any) -> Any:  # noqa: ANN401 - gives back what it was given, with other words
    """The same data with every text in it made visible: frozen dataclasses, tuples and lists are walked."""
    if isinstance(value, StrEnum):
        return value
    if isinstance(value, str):
        return visible(value)
    if isinstance(value, (tuple, list)):
        return type(value)(map(visible_in, value))
    if is_dataclass(value) and not isinstance(value, type):
        return replace(value, **{each.name: visible_in(getattr(value, each.name)) for each in fields(value)})
    return value


class VisibleText:
    """A text stream for people: whatever a command writes to it, nothing steers the terminal behind it."""

    def __init__(self, stream: TextIO, width: int | None = None) -> None:
        self.exact = stream
        """The stream itself, for what must arrive byte by byte, such as an export."""
        self.width = width
        """Cells across of the terminal behind it; None where nothing is to be wrapped."""

    def write(self, text: str) -> int:
        """Write it with everything written out but line ends and tabs, wrapped to the terminal."""
        return self.exact.write(fitted(visible_lines(text), self.width))

    def writelines(self, lines: Iterable[str]) -> None:
        """Write each."""
        for line in lines:
            self.write(line)

    def __getattr__(self, name: str) -> object:
        """Everything else is the stream's own."""
        return getattr(self.exact, name)


def fitted(text: str, width: int | None) -> str:
    """The text with each line that is wider than `width` wrapped between words, under its own indent."""
    if width is None:
        return text
    return "\n".join(_wrapped(line, width) if len(line) > width else line for line in text.split("\n"))


def _wrapped(line: str, width: int) -> str:
    indent = " " * min(len(line) - len(line.lstrip()), width // 2)
    under = f"{indent}  "
    wrapped = wrap(
        line.strip(), width, initial_indent=indent, subsequent_indent=under, break_on_hyphens=False
    )
    return "\n".join(wrapped)


def width_of(out: TextIO) -> int | None:
    """Cells across of the terminal behind the stream; None where nothing is to be wrapped."""
    width = getattr(out, "width", None)
    return width if isinstance(width, int) else None


def exact(out: TextIO) -> TextIO:
    """The stream behind, where what is written is meant for a program."""
    return getattr(out, "exact", out)
