"""Keys and what they answer, drawn as large as the room allows."""

from collections.abc import Sequence
from typing import Final

from textual.content import Content

from runner.screen import view_wording as wording
from runner.screen.full.lettering import ROWS, letter
from runner.screen.full.palette import Tone, outcome_tone
from runner.screen.full.text_band import keycap, packed
from runner.screen.view import AnswerView

_GAP: Final = "   "
_MARGIN: Final = "  "
"""Reversed cells on each side of a key's letter."""
_UNBOUNDED: Final = 10_000
"""Width at which a label stays on one line; what is too wide is told by its lines."""


def arranged(answers: Sequence[AnswerView], closing: str, width: int, spare: int) -> Content:
    """The answers in the largest form that fits `width` cells and `spare` lines, and a closing line if any.

    From large to small: lettered, tall below one another, tall abreast, flat.
    """
    last = [Content(closing)] if closing else []
    for draw in (_lettered, _stacked, _abreast):
        lines = draw(answers, width)
        if lines and len(lines) + len(last) <= spare and all(line.cell_length <= width for line in lines):
            return Content("\n").join([*lines, *last])
    flat = [Content.assemble(keycap(wording.key_name(one)), " ") + _words(one) for one in answers]
    return packed([*flat, *last], width, _GAP)


def _lettered(answers: Sequence[AnswerView], _width: int) -> list[Content]:
    """Keys and labels in large letters, below one another; nothing when a letter has no form."""
    lines: list[Content] = []
    for answer in answers:
        key, label = _key_letters(answer), letter(answer.label, _UNBOUNDED, ROWS)
        if key is None or label is None:
            return []
        across = max(map(len, key))
        letters = [Content.styled(f"{_MARGIN}{row:<{across}}{_MARGIN}", "reverse") for row in key]
        drawn = [box + _MARGIN + row for box, row in zip(letters, label, strict=True)]
        drawn[-1] = drawn[-1] + _MARGIN + _verdict(answer)
        lines += [*([Content("")] if lines else []), *drawn]
    return lines


def _key_letters(answer: AnswerView) -> tuple[str, ...] | None:
    """The key as lettering; the space bar, which is no letter, by its name."""
    name = wording.key_name(answer)
    return ("", name, "", "") if answer.is_expected else letter(name, _UNBOUNDED, ROWS)


def _stacked(answers: Sequence[AnswerView], _width: int) -> list[Content]:
    """Tall keys below one another."""
    return [line for answer in answers for line in _tall(answer)]


def _abreast(answers: Sequence[AnswerView], width: int) -> list[Content]:
    """Tall keys side by side, in as many rows as the width asks for."""
    lines: list[Content] = []
    for block in map(_tall, answers):
        if lines and lines[-1].cell_length + len(_GAP) + block[0].cell_length <= width:
            lines[-len(block) :] = [
                line + _GAP + part for line, part in zip(lines[-len(block) :], block, strict=True)
            ]
        else:
            lines += block
    return lines


def _tall(answer: AnswerView) -> list[Content]:
    """One answer three lines high, its lines of one length."""
    name = wording.key_name(answer)
    cap = Content.assemble((_MARGIN, "reverse"), keycap(name), (_MARGIN, "reverse"), " ")
    middle = cap + _words(answer)
    edges = (f"{edge * (2 * len(_MARGIN) + len(name)):<{middle.cell_length}}" for edge in "▄▀")
    above, below = map(Content, edges)
    return [above, middle, below]


def _words(answer: AnswerView) -> Content:
    """What is answered; squawks and cautions in their colour, with the word."""
    return _toned(answer, wording.answer(answer))


def _verdict(answer: AnswerView) -> Content:
    """The word alone, where the label stands in large letters."""
    return Content("") if outcome_tone(answer.outcome) is Tone.PLAIN else _toned(answer, str(answer.outcome))


def _toned(answer: AnswerView, words: str) -> Content:
    """The words in the colour of what the answer means."""
    tone = outcome_tone(answer.outcome)
    if tone is Tone.PLAIN:
        return Content(words)
    return Content.styled(f" {words} ", f"$eo-{tone}-ink on $eo-{tone}-ground")
