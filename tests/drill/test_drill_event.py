"""Events of a drill as JSON and back."""

import json

import pytest

from runner.drill.drill_event import (
    KINDS,
    DrillEvent,
    DrillFrozen,
    DrillInterrupted,
    DrillSigned,
    DrillThawed,
    FaultCalled,
    FaultMended,
    FaultTripped,
    HandMoved,
    InstructorRemark,
    InterruptionAnswered,
    LookTaken,
    WordsRefused,
    event_from_json,
    event_to_json,
    held_seconds,
)

EVERY: tuple[DrillEvent, ...] = (
    HandMoved(1.0, "feed selector", "reserve"),
    LookTaken(2.0, "left attitude"),
    FaultCalled(3.0, "gear lamps"),
    DrillInterrupted(4.0, 0),
    InterruptionAnswered(5.0, 0),
    WordsRefused(6.0, "roger", "answers nothing"),
    DrillFrozen(7.0),
    DrillThawed(8.0),
    FaultTripped(9.0, "bulb out", "gear lamps", "nose"),
    FaultMended(10.0, "bulb out", "gear lamps", "nose"),
    InstructorRemark(11.0, "Ann", "slower"),
    DrillSigned(12.0, "Ann", is_met=True, words="well looked"),
)


def test_every_event_comes_back_as_it_was() -> None:
    """Through text, all of them."""
    assert {type(each).__name__ for each in EVERY} == set(KINDS)
    for event in EVERY:
        assert event_from_json(json.loads(json.dumps(event_to_json(event)))) == event
    assert event_to_json(EVERY[8]) == {
        "kind": "FaultTripped",
        "at": 9.0,
        "fault": "bulb out",
        "name": "gear lamps",
        "part": "nose",
    }


@pytest.mark.parametrize("data", [{}, {"kind": "Moved"}, {"kind": "LookTaken", "at": 1.0}])
def test_what_is_no_event_is_refused(data: dict[str, object]) -> None:
    """With what is odd about it."""
    with pytest.raises(ValueError, match=r"no event|missing or unknown"):
        event_from_json(data)


def test_held_time_is_summed() -> None:
    """Each freeze to its thaw, the last to the end; a second freeze counts from the first."""
    events = (DrillFrozen(10.0), DrillFrozen(12.0), DrillThawed(15.0), DrillThawed(16.0), DrillFrozen(20.0))
    assert held_seconds(events, 21.5) == 6.5
    assert held_seconds(events[:4], 99.0) == 5.0
