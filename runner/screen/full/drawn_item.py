"""The item in force as lines: one focus as large as the room allows, under it what it can be answered with.

Nothing is ever cut: what is drawn largest gives way first, then the keys, then the free lines between.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from typing import Final

from textual.content import Content

from runner.screen import view_wording as wording
from runner.screen.drill_key import DRILL_HELP
from runner.screen.full.drawn_keys import FORMS, flat
from runner.screen.full.lettering import Size, letter
from runner.screen.full.palette import Tone
from runner.screen.full.text_band import keycap, packed
from runner.screen.view import View

_GAP: Final = Content("")
_AIR: Final = 4
"""Lines that stay free when something of second rank grows."""
_MOST_ROWS: Final = 40
"""More lines than any letters take; the true bound is the room."""

Lines = tuple[Content, ...]


@dataclass(frozen=True, slots=True)
class DrawnItem:
    """Lines for a pane of a known size."""

    lines: Lines
    is_whole: bool
    """False where even the smallest form has more lines than the pane."""


def draw_item(view: View, width: int, height: int) -> DrawnItem:
    """The largest form that fits."""
    if view.shows_keys:
        return _fitted((_kinds_of_key(view, width), _word_keys(view, width)), height)
    head, about = _head(view, width), _about(view, width)
    below, tail = _paragraphs(view, width), _refusal(view, width)
    around = len(head) + len(about) + len(below) + len(tail)
    for focus, answers in _forms(view, width, height - around):
        is_large = len(focus) > len(_plain(view, width)) or len(answers) > len(_flat(view, width))
        if around + len(focus) + len(answers) + is_large <= height:
            break
    about = _grown(view, about, width, height - around - len(focus) - len(answers) - _AIR)
    return _fitted((head, focus, about, below, answers, tail), height)


def fewest_lines(view: View, width: int, size: Size | None = None) -> int:
    """Lines that the smallest form takes, with the focus in that size of letters, if they can draw it."""
    if view.shows_keys:
        return len(_kinds_of_key(view, width)) + len(_word_keys(view, width))
    drawn = None if size is None else letter(_focus(view), width, _MOST_ROWS, size)
    focus = len(_plain(view, width)) if drawn is None else len(drawn) + 1
    return focus + sum(len(part(view, width)) for part in (_head, _about, _paragraphs, _flat, _refusal))


def _forms(view: View, width: int, room: int) -> Iterator[tuple[Lines, Lines]]:
    """Focus and answers from large to small; the focus gives way last but to plain words."""
    sizes: list[Lines] = []
    for size in Size:
        drawn = letter(_focus(view), width, min(room, _MOST_ROWS), size) if room > 0 else None
        if drawn is not None:
            sizes.append(tuple(Content.styled(line, "bold") for line in drawn))
    closing = wording.leave(view)
    forms = [tuple(form(view.answers, closing, width)) for form in FORMS]
    yield from product([*sizes, _plain(view, width)], [form for form in forms if form or not view.answers])
    yield _plain(view, width), _flat(view, width)


def _focus(view: View) -> str:
    """What stands largest: what is being typed, else the question that waits, else the challenge."""
    if view.is_note_typed and view.typed:
        return f"{view.typed}_"
    if view.typed and view.gauge is not None:
        return f"{view.typed}_ {view.gauge.unit}"
    return wording.large(view)


def _plain(view: View, width: int) -> Lines:
    return _wrapped(Content.styled(_focus(view), "bold"), width)


def _flat(view: View, width: int) -> Lines:
    return tuple(flat(view.answers, wording.leave(view), width))


def _head(view: View, width: int) -> Lines:
    """What stops the run, and where the item stands."""
    stop, place = wording.stop(view), wording.place(view)
    banner = [
        Content.styled(f" {line.plain:<{width - 1}}", _toned(Tone.WARNING))
        for line in _wrapped(Content(stop), width - 2)
    ]
    mark = (f" {wording.CRITICAL} ", "bold reverse") if view.is_critical else ""
    marks = Content.assemble(place, "  " if place and mark else "", mark)
    return (*(banner if stop else ()), *_wrapped(marks, width))


def _about(view: View, width: int) -> Lines:
    """What belongs to the focus: the challenge that it answers, the band that it is out of, how to type."""
    is_second = _focus(view) != view.challenge and bool(view.kind or view.is_note_typed)
    lines = [Content.styled(view.challenge, "bold")] if is_second else []
    lines += [Content(view.band)] if view.band else []
    lines += [Content(wording.entry_hint(view))] if view.gauge is not None else []
    return tuple(part for line in lines for part in _wrapped(line, width))


def _grown(view: View, about: Lines, width: int, spare: int) -> Lines:
    """With the challenge in small letters over the rest, where it is second to digits and there is room."""
    drawn = letter(view.challenge, width, spare, Size.SMALL) if view.typed and about and spare > 0 else None
    if drawn is None or view.is_note_typed:
        return about
    rest = about[len(_wrapped(Content(view.challenge), width)) :]
    return (*(Content.styled(line, "bold") for line in drawn), *rest)


def _paragraphs(view: View, width: int) -> Lines:
    """Cautions before the first item, findings after the last: each whole."""
    lines: list[Content] = []
    for paragraph in (*view.briefing, *view.findings):
        first, *rest = _wrapped(Content(paragraph), width - 2)
        lines += [Content("• ") + first, *(Content("  ") + line for line in rest)]
    return tuple(lines)


def _refusal(view: View, width: int) -> Lines:
    words = f"NOT TAKEN: {view.refusal}"
    lines = _wrapped(Content(words), width - 2) if view.refusal else ()
    return tuple(Content.styled(f" {line.plain} ", _toned(Tone.CAUTION)) for line in lines)


def _kinds_of_key(view: View, width: int) -> Lines:
    """Every kind of key and what it gives."""
    kinds = wording.KEY_HELP if view.drill is None else (*DRILL_HELP, *wording.KEY_HELP)
    wide = max(len(keys) for keys, _ in kinds)
    lines: list[Content] = []
    for keys, what in kinds:
        first, *rest = _wrapped(Content(what), width - wide - 2)
        lines += [Content.assemble(keycap(f"{keys:>{wide}}"), "  ") + first]
        lines += [Content(" " * (wide + 2)) + line for line in rest]
    return tuple(lines)


def _word_keys(view: View, width: int) -> Lines:
    """The standard words that count now."""
    words = [Content.assemble(keycap(key), f" {word}") for key, word in wording.word_keys(view)]
    return tuple(packed(words, width, "  ").split("\n")) if words else ()


def _wrapped(content: Content, width: int) -> Lines:
    return tuple(content.wrap(max(width, 1))) if content else ()


def _toned(tone: Tone) -> str:
    return f"$eo-{tone}-ink on $eo-{tone}-ground"


def _fitted(blocks: tuple[Lines, ...], height: int) -> DrawnItem:
    """The blocks below one another, with a free line between as long as there is room."""
    filled = [block for block in blocks if block]
    spare = height - sum(map(len, filled))
    lines: list[Content] = []
    for number, block in enumerate(filled):
        if number and spare > 0:
            lines.append(_GAP)
            spare -= 1
        lines += block
    return DrawnItem(tuple(lines), len(lines) <= height)
