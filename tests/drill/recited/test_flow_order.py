"""Which items must come before which, read off small and shipped checks."""

from pathlib import Path

import pytest

from runner.drill.recited.flow_order import flow_order
from tests.checklist.shipped import CHECKS, RESERVE_CHECKS, shipped_airplane, shipped_check
from tests.drill.recited.flow import SMALL_ORDER


def test_a_small_check_is_ordered_by_what_its_file_says() -> None:
    """Danger before what moves, a move before its return, a choice before what hangs on it, the call last."""
    assert {name: set(before) for name, before in SMALL_ORDER.before.items()} == {
        "people": set(),
        "cover": set(),
        "lamp on": {"people"},
        "lamp off": {"people", "lamp on"},
        "tanks": set(),
        "tip caps": {"tanks"},
        "call": {"people", "cover", "lamp on", "lamp off", "tanks", "tip caps"},
    }
    assert SMALL_ORDER.reason("lamp on", "lamp off") == "both move the lamp switch"
    assert SMALL_ORDER.reason("people", "lamp off") == "both move the lamp switch"
    assert SMALL_ORDER.reason("tanks", "tip caps") == '"tanks" decides or starts it'


@pytest.mark.parametrize("path", CHECKS, ids=lambda path: path.stem)
def test_the_order_of_a_shipped_check_is_allowed(path: Path) -> None:
    """No item waits for one that stands below it, and what is said to wait has a reason."""
    check = shipped_check(path.stem)
    order = flow_order(check, shipped_airplane(check.airplane) if check.airplane else None)
    for name, before in order.before.items():
        assert all(check.number(other) < check.number(name) for other in before)
        assert all(order.reason(other, name) for other in before)
    assert order.before[check.items[-1].name] == {item.name for item in check.items[:-1]}


@pytest.mark.parametrize("path", RESERVE_CHECKS, ids=lambda path: path.stem)
def test_a_load_is_judged_between_the_moves_of_its_own_switch(path: Path) -> None:
    """After each that stands above it and before each below: the airplane tells the switch of a load."""
    check = shipped_check(path.stem)
    airplane = shipped_airplane(check.airplane)
    order, seen = flow_order(check, airplane), 0
    for number, item in enumerate(check.items):
        claimed = [name for name in item.proves if name in airplane.loads]
        for switch in {airplane.loads[name].switch for name in claimed} - {None}:
            movers = [each for each in check.items if switch in (*each.moves, *each.returns)]
            for mover in movers:
                if check.number(mover.name) < number:
                    assert mover.name in order.before[item.name]
                if check.number(mover.name) > number:
                    assert item.name in order.before[mover.name]
                seen += 1
    assert seen >= 3


def test_items_are_free_within_a_position_and_bound_across_it() -> None:
    """What hangs on nothing else may be said in any order while the selector stands."""
    check = shipped_check("pellow-reserve")
    order = flow_order(check, shipped_airplane(check.airplane))
    assert "essential selected" in order.before["panel lamps"]
    assert "panel lamps" not in order.before["left attitude"]
    assert "left attitude" not in order.before["panel lamps"]


def test_nothing_moves_between_the_moves_of_the_selector() -> None:
    """What is judged in a position is said while the selector stands there."""
    check = shipped_check("merlow-reserve")
    order = flow_order(check, shipped_airplane("merlow-ml2"))
    selected = check.number("reserve selected")
    assert order.before["reserve selected"] == {item.name for item in check.items[:selected]}
