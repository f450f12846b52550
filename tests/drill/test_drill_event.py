"""Events of a drill as JSON and back."""

import json

import pytest

from runner.drill.drill_event import (
    KINDS,
    DrillEvent,
    DrillFrozen,
    DrillInterrupted,
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
)


def test_every_event_comes_back_as_it_was() -> None:
    """Through text, all of them."""
    assert {type(each).__name__ for each in EVERY} == set(KINDS)
    for event in EVERY:
        assert event_from_json(json.loads(json.dumps(event_to_json(event)))) == event


@pytest.mark.parametrize("data", [{}, {"kind": "Moved"}, {"kind": "LookTaken", "at": 1.0}])
def test_what_is_no_event_is_refused(data: dict[str, object]) -> None:
    """With what is odd about it."""
    with pytest.raises(ValueError, match=r"no event|missing or unknown"):
        event_from_json(data)
