"""The keys of a drill: a cursor over the panel, hands, looks, calls and replies; and its typed lines."""

from dataclasses import replace

import pytest

from runner.drill.drill_act import MoveAct, desk_meaning
from runner.drill.drill_desk import DrillDesk
from runner.drill.story.drill_story import invent_story
from runner.screen.drill_key import Pointed, drill_key, drill_words
from runner.screen.drill_view import drill_view
from runner.screen.keys import KeyedAnswer, Refused
from runner.screen.plain.plain_view import panel_lines, plain_lines
from runner.screen.plain.typed_line import line_to_intent
from runner.screen.view import View
from tests.drill.sample import ON, drilled
from tests.screen.sample import ASKING

START = 1_790_000_000.0


@pytest.fixture
def view() -> View:
    """The Merlow on the reserve, somebody waiting for an answer."""
    airplane, check = drilled(0)
    desk = DrillDesk(invent_story(check, airplane, ON, level=3, seed=3), START)
    desk.act(START, MoveAct("feed selector", "reserve"))
    desk.interrupt(START + 20, 99)
    questions = {item.name: item.challenge for item in check.items}
    return replace(ASKING, is_drill=True, drill=drill_view(desk, START + 20, questions))


def said(view: View, phrase: str) -> KeyedAnswer:
    """What a phrase at the desk comes to."""
    return KeyedAnswer(view.turn, desk_meaning(phrase), phrase)


def row_of(view: View, name: str) -> int:
    """Where it stands on the board."""
    assert view.drill is not None
    return next(number for number, row in enumerate(view.drill.rows) if row.name == name)


def test_arrows_go_along_the_panel_and_stop_at_its_ends(view: View) -> None:
    """Up and down by one, a page by eight, a tab to the next part."""
    assert view.drill is not None
    assert drill_key("down", view, 0) == Pointed(1)
    assert drill_key("up", view, 0) == Pointed(0)
    last = len(view.drill.rows) - 1
    assert drill_key("pagedown", view, last - 2) == Pointed(last)
    assert drill_key("tab", view, 0) == Pointed(2)
    assert drill_key("tab", view, last) == Pointed(0)


def test_left_and_right_move_a_switch_or_look(view: View) -> None:
    """One position on, never beyond the last; where there is nothing to move it is a look."""
    selector = row_of(view, "feed selector")
    assert drill_key("left", view, selector) == said(view, "feed selector flight")
    assert drill_key("right", view, selector) == said(view, "feed selector reserve")
    assert drill_key("right", view, row_of(view, "flood dimmer")) == said(view, "flood dimmer on")
    assert drill_key("right", view, row_of(view, "clock")) == said(view, "look at clock")


def test_a_call_and_a_reply(view: View) -> None:
    """What stands under the cursor is wrong; whoever waits is answered."""
    assert drill_key("!", view, row_of(view, "clock")) == said(view, "clock is wrong")
    assert view.drill is not None
    assert drill_key("=", view, 0) == said(view, view.drill.reply)


def test_other_keys_are_the_runs_own(view: View) -> None:
    """And without a drill all are."""
    assert drill_key("b", view, 0) is None
    assert drill_key("down", ASKING, 0) is None


def test_typed_lines_are_words_at_the_desk(view: View) -> None:
    """Where they are in force, and answers stay answers."""
    assert view.drill is not None
    assert line_to_intent("Flood dimmer on\n", view) == said(view, "flood dimmer on")
    assert line_to_intent("=\n", view) == said(view, view.drill.reply)
    assert isinstance(line_to_intent("seat heater on\n", view), Refused)
    assert drill_words("clock", ASKING) is None


def test_plain_text_says_what_the_board_says(view: View) -> None:
    """The word DRILL first, who waits, how long there is, and on request every row."""
    assert view.drill is not None
    lines = "\n".join(plain_lines(view))
    assert lines.startswith("[DRILL answer]")
    assert view.drill.reply in lines
    assert "departure in" in lines
    rows = "\n".join(panel_lines(view))
    assert "feed selector: reserve" in rows
    assert "left attitude: flag in view" in rows
