"""Answers drawn in the largest form that fits."""

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.checklist.format.check import Outcome
from runner.language.meaning import Picked
from runner.screen.full.drawn_keys import arranged
from runner.screen.view import AnswerView
from tests.screen.sample import LAMPS

ANSWERS = st.lists(
    st.builds(
        AnswerView,
        key=st.sampled_from("abcxyz"),
        label=st.lists(st.text("abcdef", min_size=1, max_size=8), min_size=1, max_size=2).map(" ".join),
        meaning=st.just(Picked("item", "label")),
        outcome=st.sampled_from([None, *Outcome]),
    ),
    max_size=6,
)


@pytest.mark.parametrize(
    ("spare", "height"),
    [(20, 14), (13, 9), (8, 3), (3, 3), (2, 1), (0, 1)],
    ids=["lettered", "below one another", "side by side", "just", "flat", "no room"],
)
def test_answers_are_drawn_as_large_as_the_room_allows(spare: int, height: int) -> None:
    """Three of them in 76 cells: lettered 4 lines each and a gap, tall 3 each, tall abreast 3, flat 1."""
    assert len(arranged(LAMPS, "", 76, spare).plain.splitlines()) == height


@given(answers=ANSWERS, width=st.integers(32, 130), spare=st.integers(-3, 40))
def test_answers_never_need_more_room_than_there_is_but_when_flat(
    answers: Sequence[AnswerView], width: int, spare: int
) -> None:
    """Never wider than asked; higher only in the smallest form, one line for each at most."""
    lines = arranged(answers, "ctrl+q leave", width, spare).split("\n")
    assert max(line.cell_length for line in lines) <= width
    assert len(lines) <= max(spare, len(answers) + 1)
    assert lines[-1].plain.endswith("ctrl+q leave")


def test_many_answers_stand_in_rows_of_tall_keys() -> None:
    """Where they fit neither below one another nor all abreast."""
    assert len(arranged((*LAMPS, *LAMPS), "", 76, 7).plain.splitlines()) == 6


def test_a_squawk_has_its_word_and_its_colour_in_every_form() -> None:
    """The word beside the colour, never the colour alone."""
    for spare in (20, 9, 3, 0):
        drawn = arranged(LAMPS, "", 76, spare)
        assert drawn.plain.count("squawk") == 2
        assert sum("caution" in str(span.style) for span in drawn.spans) == 2


def test_nothing_to_answer_draws_nothing() -> None:
    """A reading has no named answers."""
    assert arranged((), "", 76, 20).plain == ""
