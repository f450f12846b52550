"""Orders of an instructor: each does what it says to the played airplane, or is refused in one line."""

import pytest

from runner.drill.drill_event import DrillSigned, FaultTripped, InstructorRemark
from runner.drill.played.hidden import Hidden, HiddenKind
from runner.drill.played.played_airplane import PlayedAirplane
from runner.errors import UsageError
from runner.session.instructor.instructor_order import fault_plain, ordered_event, trippable
from tests.drill.sample import CASES, drilled, setting_of
from tests.session.instructor.beside import BULB, GYRO, START, Beside

REFUSED: tuple[tuple[dict[str, object], str], ...] = (
    ({}, "no order None; known: freeze, continue"),
    ({"order": "explode"}, "no order 'explode'"),
    ({"order": "continue"}, "time goes on already"),
    ({"order": "trip", "kind": "haunted", "name": "nav 1"}, "nothing can be 'haunted'"),
    ({"order": "trip", "kind": "dead", "name": "moon"}, "this airplane cannot have moon: dead"),
    ({"order": "trip", **fault_plain(BULB)}, "flood lamps, left: bulb out is in the airplane already"),
    ({"order": "mend", **GYRO}, "left attitude gyro: tumbles is not in the airplane"),
    ({"order": "remark", "by": "Bea", "words": "  "}, "a remark needs words"),
    ({"order": "remark", "by": "Bea", "words": "x" * 401}, "write at most 400 letters"),
    ({"order": "sign", "is_met": True}, "a signature needs the instructor's name"),
    ({"order": "sign", "by": "Bea", "is_met": "yes"}, "say whether the standard was met"),
)


@pytest.mark.parametrize(("order", "line"), REFUSED, ids=lambda each: str(each)[:40])
def test_an_order_that_cannot_be_is_told_in_one_line(order: dict[str, object], line: str) -> None:
    """And nothing happens."""
    drill = Beside()
    with pytest.raises(UsageError) as refused:
        ordered_event(order, START, drill.desk)
    assert line in str(refused.value)
    assert "\n" not in str(refused.value)
    assert drill.events == []


def test_time_is_held_and_let_go() -> None:
    """While it is held the airplane does not age, and the student's screen says so."""
    drill = Beside()
    drill.obey({"order": "freeze"})
    seconds = drill.desk.played.seconds
    drill.pass_seconds(60)
    assert drill.desk.played.seconds == seconds
    assert drill.view.drill is not None
    assert drill.view.drill.notice == "The instructor has stopped the airplane's time."
    drill.obey({"order": "continue"})
    drill.pass_seconds(5)
    assert drill.desk.played.seconds == pytest.approx(seconds + 5)
    assert drill.view.drill.notice == ""


def test_a_fault_is_tripped_and_mended() -> None:
    """The panel changes, then changes back."""
    drill = Beside()
    drill.obey({"order": "trip", **GYRO})
    assert Hidden(HiddenKind.TUMBLES, "left attitude gyro") in drill.desk.played.hidden
    drill.obey({"order": "mend", **GYRO})
    drill.obey({"order": "mend", **fault_plain(BULB)})
    assert drill.desk.played.hidden == ()


def test_a_bad_contact_is_mended_too() -> None:
    """A fault that comes and goes is taken out by its name."""
    loose = Hidden(HiddenKind.BULB_OUT, "flood lamps", "left", comes_and_goes=True)
    played = PlayedAirplane(setting_of(0, loose))
    played.change(BULB, is_in=False)
    assert played.hidden == ()


@pytest.mark.parametrize("number", range(len(CASES)))
def test_every_fault_that_is_offered_can_be_tripped_and_mended(number: int) -> None:
    """In every shipped airplane, while it is powered; afterwards the panel is as it was."""
    airplane, _ = drilled(number)
    played = PlayedAirplane(setting_of(number))
    played.move(airplane.selector.name, airplane.selector.reserve)
    before = played.panel().stands
    for plain in trippable(airplane):
        fault = Hidden(HiddenKind(plain["kind"]), plain["name"], plain["part"])
        played.change(fault, is_in=True)
        played.panel()
        played.change(fault, is_in=False)
    assert (played.hidden, played.panel().stands) == ((), before)


def test_remarks_and_the_signature_leave_time_alone() -> None:
    """They may come when all is over; a second signature is refused."""
    drill = Beside()
    drill.pass_seconds(10)
    seconds = drill.desk.played.seconds
    drill.desk.happen(InstructorRemark(START + 500, "Bea", "well looked"))
    drill.desk.happen(DrillSigned(START + 501, "Bea", is_met=True, words=""))
    assert drill.desk.played.seconds == seconds
    with pytest.raises(UsageError, match="signed off already"):
        ordered_event({"order": "sign", "by": "Bea", "is_met": False}, START, drill.desk)


def test_a_signature_and_a_remark_are_events_of_the_drill() -> None:
    """With the instructor's name; what would steer a terminal is written out."""
    drill = Beside()
    drill.obey({"order": "remark", "by": "Bea", "words": "look\x1b[2J twice"})
    drill.obey({"order": "sign", "by": "Bea", "is_met": False, "words": "again on Monday"})
    remark, signed = drill.events
    assert remark == InstructorRemark(START + 1, "Bea", "look\\u001b[2J twice")
    assert signed == DrillSigned(START + 2, "Bea", is_met=False, words="again on Monday")
    drill.obey({"order": "trip", **GYRO})
    assert isinstance(drill.events[-1], FaultTripped)
