"""Answers drawn in the largest form that fits."""

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.content import Content

from runner.language.catalogue import Outcome
from runner.language.meaning import Picked
from runner.screen.full.drawn_keys import FORMS, Form, abreast, flat, lettered, stacked
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
    ("form", "height"),
    [(lettered, 14), (stacked, 9), (abreast, 3), (flat, 1)],
    ids=["lettered", "below one another", "side by side", "flat"],
)
def test_answers_have_four_forms(form: Form, height: int) -> None:
    """Three of them in 80 cells: lettered 4 lines each and a gap, tall 3 each, tall abreast 3, flat 1."""
    assert len(form(LAMPS, "", 80)) == height


@given(answers=ANSWERS, width=st.integers(12, 130))
def test_no_form_is_wider_than_asked_and_the_flat_one_always_fits(
    answers: Sequence[AnswerView], width: int
) -> None:
    """Words are broken over lines rather than cut; every label is there."""
    for form in FORMS:
        lines = form(answers, "ctrl+q leave", width)
        assert max((line.cell_length for line in lines), default=0) <= width
    shown = "".join("".join(line.plain.split()) for line in flat(answers, "ctrl+q leave", width))
    assert shown.endswith("ctrl+qleave")
    assert all("".join(answer.label.split()) in shown for answer in answers)


def test_many_answers_stand_in_rows_of_tall_keys() -> None:
    """Where they do not fit all abreast."""
    assert len(abreast((*LAMPS, *LAMPS), "", 80)) == 6


def test_a_squawk_has_its_word_in_every_form_and_only_danger_a_colour() -> None:
    """What may be answered has not happened yet."""
    stop = replace(LAMPS[1], outcome=Outcome.STOP)
    for form in FORMS:
        drawn = Content("\n").join(form(LAMPS, "", 80))
        assert drawn.plain.count("(squawk)") == 2
        assert not any("caution" in str(span.style) for span in drawn.spans)
        assert any("warning" in str(span.style) for span in Content("\n").join(form([stop], "", 80)).spans)


def test_the_words_that_the_ear_takes_stand_beside_another_label() -> None:
    """So that nobody says what is not in force."""
    other = replace(LAMPS[1], say="left lamp out")
    assert '"left lamp out"' in flat([other], "", 80)[0].plain


def test_nothing_to_answer_draws_nothing() -> None:
    """A reading has no named answers."""
    assert all(form((), "", 76) == [] for form in FORMS)
