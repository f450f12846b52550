"""Keys of a drill beside the run's own: a cursor over the panel, a hand under it, a call, a reply."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from runner.drill.drill_act import call_phrase, desk_meaning, look_phrase, move_phrase
from runner.language.spelling import normalise
from runner.screen.drill_view import DrillRow, DrillView
from runner.screen.keys import KeyedAnswer
from runner.screen.view import View

GROUP_KEY: Final = "tab"
CALL_KEY: Final = "!"
REPLY_KEY: Final = "="
_STEPS: Final = {"up": -1, "down": 1, "pageup": -8, "pagedown": 8}
_TURNS: Final = {"left": -1, "right": 1}
DRILL_HELP: Final = (
    ("up down", "along the panel"),
    (GROUP_KEY, "to the next part of it"),
    ("left right", "move what stands there, or look closer"),
    (CALL_KEY, "what stands there is wrong"),
    (REPLY_KEY, "answer who interrupts"),
)
"""Every kind of key that a drill adds."""


@dataclass(frozen=True, slots=True)
class Pointed:
    """The cursor stands at this row now; stays inside the screen."""

    row: int


def drill_key(key: str, view: View, cursor: int) -> KeyedAnswer | Pointed | None:
    """What a key means to the drill; None when it is none of its keys."""
    drill = view.drill
    if drill is None or not drill.rows:
        return None
    if key in _STEPS or key == GROUP_KEY:
        step = cursor + _STEPS.get(key, 0)
        return Pointed(_next_group(drill, cursor) if key == GROUP_KEY else _kept(step, drill))
    phrase = _phrase(key, drill, drill.rows[_kept(cursor, drill)])
    return _said(phrase, view) if phrase else None


def _phrase(key: str, drill: DrillView, row: DrillRow) -> str:
    """What a key says at the desk; empty when nothing."""
    if key in _TURNS:
        return _turned(row, _TURNS[key])
    if key == CALL_KEY:
        return call_phrase(row.name)
    return drill.reply if key == REPLY_KEY else ""


def _kept(row: int, drill: DrillView) -> int:
    return min(max(row, 0), len(drill.rows) - 1)


def drill_words(words: str, view: View) -> KeyedAnswer | None:
    """A typed line as words at the desk; None when it is none of them."""
    drill = view.drill
    if drill is None:
        return None
    if words == REPLY_KEY and drill.reply:
        return _said(drill.reply, view)
    return _said(words, view) if normalise(words) in drill.phrases else None


def _next_group(drill: DrillView, cursor: int) -> int:
    """The first row of the next part of the panel, and after the last of the first."""
    here = drill.rows[_kept(cursor, drill)].group
    ahead = (number for number in range(cursor, len(drill.rows)) if drill.rows[number].group != here)
    return next(ahead, 0)


def _turned(row: DrillRow, step: int) -> str:
    """The switch one position on, if there is one; else a look."""
    if not row.is_hand:
        return look_phrase(row.name)
    number = min(max(row.positions.index(row.words) + step, 0), len(row.positions) - 1)
    return move_phrase(row.name, row.positions[number])


def _said(phrase: str, view: View) -> KeyedAnswer:
    return KeyedAnswer(view.turn, desk_meaning(phrase), phrase)
