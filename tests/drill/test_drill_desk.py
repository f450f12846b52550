"""The desk of a drill: hands, eyes, people who interrupt, and an instructor beside it."""

import pytest

from runner.drill.drill_act import CallAct, LookAct, MoveAct, ReplyAct
from runner.drill.drill_desk import DrillDesk
from runner.drill.drill_event import (
    DrillEvent,
    DrillFrozen,
    DrillThawed,
    FaultCalled,
    FaultMended,
    FaultTripped,
    HandMoved,
    InstructorRemark,
)
from runner.drill.judged.film import shoot
from runner.drill.played.hidden import Hidden, HiddenKind
from runner.drill.story.drill_story import invent_story
from runner.drill.story.interruption import PATIENCE_SECONDS
from tests.drill.sample import ON, drilled

START = 1_790_000_000.0


def desk_of(level: int = 1, *faults: Hidden) -> DrillDesk:
    """A desk on the Merlow."""
    airplane, check = drilled(0)
    count = None if faults or level > 1 else 0
    return DrillDesk(
        invent_story(check, airplane, ON, level=level, seed=3, faults=faults, count=count), START
    )


def test_hands_and_eyes_have_words() -> None:
    """A switch is moved by its name and position, a look is a name, a call says that it is wrong."""
    acts = desk_of().acts
    assert acts["flood dimmer on"] == MoveAct("flood dimmer", "on")
    assert acts["selector to reserve"] == MoveAct("feed selector", "reserve")
    assert acts["left attitude"] == LookAct("left attitude")
    assert acts["left attitude is wrong"] == CallAct("left attitude")


def test_a_look_tells_what_is_seen_and_never_why() -> None:
    """The flag, the horizon, and no fault's name."""
    desk = desk_of(1, Hidden(HiddenKind.FLAG_NEVER, "left attitude gyro"))
    desk.act(START, MoveAct("feed selector", "reserve"))
    desk.play_to(START + 100)
    assert desk.act(START + 100, LookAct("left attitude")) == "Left attitude: flag in view, horizon steady."
    assert desk.act(START + 101, LookAct("feed selector")) == "Feed selector: reserve."
    words = " ".join(sight.words for sight in desk.panel.sights.values())
    assert not any(str(kind) in words for kind in HiddenKind if len(str(kind)) > 5)


def test_people_come_want_an_answer_and_go() -> None:
    """The first comes after so many items; who is not answered goes, and who is answered waits no more."""
    desk = desk_of(3)
    first = desk.story.interruptions[0]
    assert desk.interrupt(START + 1, first.after_items - 1) == ""
    assert desk.interrupt(START + 2, first.after_items) == first.says
    assert desk.interruption == first
    assert desk.acts[first.wants[0]] == ReplyAct(0)
    desk.play_to(START + 2 + PATIENCE_SECONDS)
    assert desk.interruption is None
    second = desk.story.interruptions[1]
    desk.interrupt(START + 60, second.after_items)
    desk.act(START + 62, ReplyAct(1))
    assert desk.interruption is None


def test_an_instructor_freezes_trips_mends_and_remarks() -> None:
    """While time stands still nothing spins up; what is tripped shows, and mended shows no more."""
    seen: list[DrillEvent] = []
    desk = desk_of()
    desk.watch = seen.append
    desk.act(START, MoveAct("feed selector", "reserve"))
    desk.happen(DrillFrozen(START + 1))
    desk.play_to(START + 300)
    assert not desk.panel.flags["left attitude gyro"]
    desk.happen(DrillThawed(START + 300))
    desk.play_to(START + 360)
    assert desk.panel.flags["left attitude gyro"]
    desk.happen(FaultTripped(START + 361, "bulb out", "gear lamps", "nose"))
    assert desk.panel.sights["gear lamps"].dark == ("nose",)
    desk.happen(FaultMended(START + 362, "bulb out", "gear lamps", "nose"))
    assert desk.panel.sights["gear lamps"].dark == ()
    desk.happen(InstructorRemark(START + 363, "Ann", "look at each lamp"))
    assert [type(event) for event in seen] == [
        HandMoved,
        DrillFrozen,
        DrillThawed,
        FaultTripped,
        FaultMended,
        InstructorRemark,
    ]


def test_the_film_shows_what_the_desk_showed() -> None:
    """Played again from its events the airplane ends as it did, with what was tripped on the way."""
    desk = desk_of()
    desk.act(START + 2, MoveAct("feed selector", "reserve"))
    desk.happen(FaultTripped(START + 5, "bulb out", "gear lamps", "nose"))
    desk.act(START + 9, MoveAct("flood dimmer", "on"))
    desk.happen(FaultCalled(START + 12, "gear lamps"))
    desk.play_to(START + 60)
    film = shoot(desk.story.setting, START, desk.events, START + 60)
    assert film.frames[-1].panel == desk.panel
    assert film.faults == (Hidden(HiddenKind.BULB_OUT, "gear lamps", "nose"),)
    assert film.at(START + 12).tells(film.faults[0]) == {"gear lamps"}
    assert film.at(START + 4).tells(film.faults[0]) == frozenset()


def test_the_departure_comes_nearer() -> None:
    """Where there is one, its time runs."""
    desk = desk_of(2)
    whole = desk.left_seconds(START)
    assert whole is not None
    assert desk.left_seconds(START + 60) == pytest.approx(whole - 60)
    assert desk_of(1).left_seconds(START) is None
