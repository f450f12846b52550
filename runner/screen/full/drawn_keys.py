"""Keys and what they answer, in four forms from large to small."""

from collections.abc import Callable, Sequence
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

Form = Callable[[Sequence[AnswerView], str, int], list[Content]]
"""Answers, a closing line or none, and the width; no lines where the form does not fit the width."""


def lettered(answers: Sequence[AnswerView], closing: str, width: int) -> list[Content]:
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
    return _closed(lines, closing, width)


def stacked(answers: Sequence[AnswerView], closing: str, width: int) -> list[Content]:
    """Tall keys below one another."""
    return _closed([line for answer in answers for line in _tall(answer)], closing, width)


def abreast(answers: Sequence[AnswerView], closing: str, width: int) -> list[Content]:
    """Tall keys side by side, in as many rows as the width asks for."""
    lines: list[Content] = []
    for block in map(_tall, answers):
        if lines and lines[-1].cell_length + len(_GAP) + block[0].cell_length <= width:
            lines[-len(block) :] = [
                line + _GAP + part for line, part in zip(lines[-len(block) :], block, strict=True)
            ]
        else:
            lines += block
    return _closed(lines, closing, width)


def flat(answers: Sequence[AnswerView], closing: str, width: int) -> list[Content]:
    """Keys and words in lines, none broken that fits a line; always fits."""
    pieces = [Content.assemble(keycap(f" {wording.key_name(one)} "), " ") + _words(one) for one in answers]
    lines = packed([*pieces, *_closing(closing)], width, _GAP).split("\n")
    return [part for line in lines if line for part in line.wrap(max(width, 1))]


FORMS: Final[tuple[Form, ...]] = (lettered, stacked, abreast, flat)
"""From large to small."""


def _closed(lines: list[Content], closing: str, width: int) -> list[Content]:
    closed = [*lines, *_closing(closing)]
    return closed if all(line.cell_length <= width for line in closed) else []


def _closing(words: str) -> list[Content]:
    """`q close` with its key drawn as one."""
    key, _, what = words.partition(" ")
    return [Content.assemble(keycap(f" {key} "), f" {what}")] if words else []


def _key_letters(answer: AnswerView) -> tuple[str, ...] | None:
    """The key as lettering; the space bar, which is no letter, by its name."""
    name = wording.key_name(answer)
    return ("", name, "", "") if answer.is_expected else letter(name, _UNBOUNDED, ROWS)


def _tall(answer: AnswerView) -> list[Content]:
    """One answer three lines high, its lines of one length."""
    name = wording.key_name(answer)
    cap = Content.assemble((_MARGIN, "reverse"), keycap(name), (_MARGIN, "reverse"), " ")
    middle = cap + _words(answer)
    edges = (f"{edge * (2 * len(_MARGIN) + len(name)):<{middle.cell_length}}" for edge in "▄▀")
    above, below = map(Content, edges)
    return [above, middle, below]


def _words(answer: AnswerView) -> Content:
    """What is answered; where it is no pass the word for that, and danger in its colour."""
    said = f' "{answer.say}"' if answer.say else ""
    verdict = _verdict(answer)
    return Content.assemble((answer.label, "bold"), said, " " if verdict else "", verdict)


def _verdict(answer: AnswerView) -> Content:
    """`squawk` beside an answer that only may be given is no squawk yet: it has no colour, unlike danger."""
    tone = outcome_tone(answer.outcome)
    if tone is Tone.PLAIN:
        return Content("")
    if tone is Tone.WARNING:
        return Content.styled(f" {answer.outcome} ", f"$eo-{tone}-ink on $eo-{tone}-ground")
    return Content(f"({answer.outcome})")
