r"""PURE: people's words made safe to show: what would steer a terminal, a page or an eye is written out.

Control characters (ECMA-48), bidirectional controls (Unicode Standard Annex 9), other invisible formatting,
line separators and halves of characters become `\u001b` and the like, which is also what they are in JSON.
"""

import re
from collections.abc import Iterable
from dataclasses import fields, is_dataclass, replace
from enum import StrEnum
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

    def __init__(self, stream: TextIO) -> None:
        self.exact = stream
        """The stream itself, for what must arrive byte by byte, such as an export."""

    def write(self, text: str) -> int:
        """Write it with everything written out but line ends and tabs."""
        return self.exact.write(visible_lines(text))

    def writelines(self, lines: Iterable[str]) -> None:
        """Write each."""
        for line in lines:
            self.write(line)

    def __getattr__(self, name: str) -> object:
        """Everything else is the stream's own."""
        return getattr(self.exact, name)


def exact(out: TextIO) -> TextIO:
    """The stream behind, where what is written is meant for a program."""
    return getattr(out, "exact", out)
