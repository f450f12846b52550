"""Recitations judged: every allowed order is full, each kind of mistake told apart, doubt costs nothing."""

from itertools import permutations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.drill.recited.flow_order import flow_order
from runner.drill.recited.flow_words import FlowWords, SaidLine
from runner.drill.recited.recitation import Recitation, judge_recitation
from tests.checklist.shipped import CHECKS, shipped_airplane, shipped_check
from tests.drill.recited.flow import SMALL, SMALL_ORDER, is_allowed

WORDS = FlowWords(SMALL)
ITEMS = SMALL_ORDER.items


def recited(*lines: str) -> Recitation:
    """Typed lines, judged."""
    return judge_recitation(SMALL, SMALL_ORDER, [WORDS.understand(line) for line in lines])


def test_every_order_that_is_allowed_scores_full_and_no_other() -> None:
    """All 5,040 permutations of seven items."""
    allowed = 0
    for said in permutations(ITEMS):
        found = judge_recitation(
            SMALL, SMALL_ORDER, [SaidLine(each, (each,), is_doubtful=False) for each in said]
        )
        assert (found.score == found.asked == 7) == is_allowed(SMALL_ORDER, said), said
        allowed += is_allowed(SMALL_ORDER, said)
    assert (
        allowed == 60
    )  # 6! orders of the six before the call, over 3! for people, lamp on, off and 2 for tanks


def test_a_swap_is_told_with_its_reason() -> None:
    """It is neither left out nor foreign."""
    found = recited("people", "cover", "lamp off", "lamp on", "tanks", "tip caps", "call")
    (swap,) = found.misplaced
    assert (swap.reason, found.omitted, found.intruded) == ("both move the lamp switch", (), ())
    assert {swap.item, swap.other} == {"lamp on", "lamp off"}
    assert (found.score, found.asked) == (6, 7)


def test_an_omission_an_intrusion_and_a_repetition_are_told_apart() -> None:
    """Cover left out, a fuel cap that this check does not know, people twice."""
    found = recited("people", "people near", "lamp on", "lamp off", "dipstick of the oil", "tanks", "call")
    assert found.omitted == ("cover",)
    assert found.intruded == ("dipstick of the oil",)
    assert found.repeated == ("people",)
    assert found.misplaced == ()
    assert found.optional == ("tip caps",), "asked only with long range tanks"
    assert (found.score, found.asked) == (5, 6)


def test_what_comes_too_early_is_told_against_what_it_waits_for() -> None:
    """The call in the middle."""
    found = recited("people", "call", "cover", "lamp on", "lamp off", "tanks")
    (early,) = found.misplaced
    assert (early.item, early.is_early, early.reason) == ("call", True, "the call ends the check")


lines = st.lists(
    st.one_of(
        st.sampled_from(ITEMS).map(lambda name: SaidLine(name, (name,), is_doubtful=False)),
        st.just(SaidLine("foreign", (), is_doubtful=False)),
        st.lists(st.sampled_from(ITEMS), max_size=3, unique=True).map(
            lambda names: SaidLine("mumbled", tuple(names), is_doubtful=True)
        ),
    ),
    min_size=1,
    max_size=9,
)


@given(lines, st.data())
def test_a_line_that_was_heard_badly_never_lowers_a_score(said: list[SaidLine], data: st.DataObject) -> None:
    """Whatever a line was, in doubt it counts as much: with itself among its candidates, or as anything."""
    number = data.draw(st.integers(0, len(said) - 1))
    true = said[number].candidates
    others = data.draw(st.lists(st.sampled_from(ITEMS), max_size=2))
    candidates = data.draw(st.sampled_from([(), (*true, *others) if true else ()]))
    garbled = [*said]
    garbled[number] = SaidLine("?", candidates, is_doubtful=True)
    before, after = (judge_recitation(SMALL, SMALL_ORDER, each) for each in (said, garbled))
    assert after.asked - after.score <= before.asked - before.score
    assert after.score >= before.score


@pytest.mark.parametrize("path", CHECKS, ids=lambda path: path.stem)
def test_a_shipped_check_recited_in_its_own_words_and_order_is_full(path: Path) -> None:
    """By challenge, whatever two items share being cleared up as meant."""
    check = shipped_check(path.stem)
    words = FlowWords(check)
    order = flow_order(check, shipped_airplane(check.airplane) if check.airplane else None)
    said = [words.understand(item.challenge) for item in check.items]
    for item, line in zip(check.items, said, strict=True):
        assert item.name in line.candidates
    cleared = [SaidLine(item.challenge, (item.name,), is_doubtful=False) for item in check.items]
    found = judge_recitation(check, order, cleared)
    assert found.score == found.asked == len(check.items)
