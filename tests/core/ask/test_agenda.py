import pytest

from runner.checklist.format.check import Condition, Item
from runner.checklist.kind.action import Action
from runner.checklist.kind.choice import Choice
from runner.checklist.kind.spin_up import SpinUp
from runner.core.ask.agenda import (
    applies,
    is_critical,
    is_left_out,
    item_in_force,
    passed_clocks,
)
from runner.core.record.progress import Progress
from runner.core.state import State
from runner.language.catalogue import Word
from tests.core.sample import CALL, CHECK, PLAN, RESTORE, Run, begun, gyro, item, plan_of, powered, response


def left_out(run: Run) -> list[str]:
    """Items that the answers rule out."""
    progress = run.machine.progress
    return [each.name for each in progress.plan.check.items if is_left_out(progress, each)]


def test_critical_are_marked_items_restoration_and_call() -> None:
    """NASA CR-177549 App. A no. 15, and no. 6 for the call."""
    assert [each.name for each in CHECK.items if is_critical(each)] == ["reserve", "volts", "normal", "call"]


def test_a_choice_decides_which_items_apply() -> None:
    """Before it is answered, they wait; after it, they are asked or left out."""
    run = begun()
    horn = CHECK.item("horn")
    assert not applies(run.machine.progress, horn)
    assert left_out(run) == []
    assert "horn" in left_out(run.pick("fit", "new"))
    assert "horn" not in left_out(begun().pick("fit", "old"))
    run = powered("old").read("24.6").pick("lamps", "both")
    assert run.said == "HORN."


def test_a_choice_that_is_put_off_brings_its_items_when_it_is_answered() -> None:
    """They are asked as soon as they apply."""
    chain = (
        item("fit", Choice((response("new"), response("old")))),
        item("horn", Action((response("heard"),)), when=Condition("fit", ("old",))),
        item("hatch", Action((response("closed"),))),
    )
    run = Run(plan_of(*chain)).start().say(Word.CONTINUE).say(Word.PUT_OFF)
    assert run.said == "Put off, FIT. HATCH."
    assert run.pick("hatch", "closed").said == "FIT."
    assert run.pick("fit", "old").said == "HORN."
    assert run.pick("horn", "heard").said == "CALL."


def test_every_move_of_the_selector_waits_for_the_clocks() -> None:
    """The next position may take the gyro's power away."""
    chain = (
        item("reserve", Action((response("reserve"),), "reserve")),
        gyro("left", 30, 60),
        item("lamps", Action((response("on"),))),
        item("normal", Action((response("normal"),), "normal")),
    )
    run = Run(plan_of(*chain)).start().say(Word.CONTINUE).pick("reserve", "reserve")
    assert run.said.endswith("LAMPS.")
    run.pick("lamps", "on")
    assert run.said == "Waiting for left gyro."
    assert run.pulled("left flag").said.endswith("NORMAL.")


def test_a_choice_that_cannot_be_made_leaves_its_items_out() -> None:
    """And what hangs on those."""
    chain = (
        item("a", Choice((response("x"), response("y")))),
        item("b", Choice((response("x"), response("y"))), when=Condition("a", ("x",))),
        item("c", Action((response("on"),)), when=Condition("b", ("x",))),
        gyro("d", 10, 20, starts_on="c"),
    )
    run = Run(plan_of(*chain)).start().say(Word.CONTINUE).say(Word.UNABLE)
    assert left_out(run) == ["b", "c", "d flag"]
    assert item_in_force(run.machine.progress) == CALL


def test_a_gyro_without_power_is_left_out() -> None:
    """Its trigger was a squawk, or could not be done."""
    run = begun().pick("fit", "new").pick("reserve", "dark")
    assert {"left flag", "right flag"} <= set(left_out(run))
    plan = plan_of(item("on", Action((response("on"),))), gyro("lone", 10, 20, starts_on="on"))
    run = Run(plan).start().say(Word.CONTINUE)
    assert left_out(run) == []
    assert left_out(run.say(Word.UNABLE)) == ["lone flag"]


def test_a_gyro_that_a_late_choice_brings_in_counts_from_power_on() -> None:
    """Its clock starts in the past, with the answer that gave it power."""
    when = Condition("fit", ("old",))
    plan = plan_of(
        item("on", Action((response("on"),))),
        item("fit", Choice((response("new"), response("old")))),
        Item("flag", "FLAG", spin_up(), "why", RESTORE.place, when=when),
    )
    run = Run(plan).start().say(Word.CONTINUE).pick("on", "on")
    power_on_at = run.at - 0.5
    assert run.machine.progress.clocks == {}
    run.pick("fit", "old")
    assert run.state is State.WAITING
    assert run.machine.progress.open_clocks[0].started_at == power_on_at


def spin_up() -> SpinUp:
    """A gyro powered by the item "on"."""
    body = gyro("lone", 10, 20, starts_on="on").body
    assert isinstance(body, SpinUp)
    return body


def test_restoring_is_never_asked_where_nothing_was_moved() -> None:
    """In a run that is being abandoned."""
    assert begun().machine.progress.moved == ()
    assert item_in_force(Progress(PLAN, is_abandoning=True)) is None
    assert [move.switch for move in powered().machine.progress.moved] == ["selector"]


@pytest.mark.parametrize(
    ("last", "following", "passed"),
    [
        ("reserve", "volts", ["left flag"]),
        ("reserve", "lamps", ["left flag", "right flag"]),
        ("volts", "lamps", ["right flag"]),
        ("lamps", "radio", []),
        ("radio", "fit", []),
    ],
)
def test_clocks_are_passed_in_the_order_of_the_check(last: str, following: str, passed: list[str]) -> None:
    """Only those that stand between the two items."""
    clocks = passed_clocks(powered().machine.progress, last, following)
    assert [clock.item for clock in clocks] == passed
