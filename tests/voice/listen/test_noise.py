"""The noise floor, fed with levels alone."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.voice.listen.noise import Loudness, NoiseFloor

BLOCK = 0.03


def hear(floor: NoiseFloor, seconds: float, dbfs: float) -> NoiseFloor:
    """A steady level for some time."""
    for _ in range(round(seconds / BLOCK)):
        floor = floor.after(BLOCK, dbfs)
    return floor


def test_the_floor_is_the_level_of_a_steady_room() -> None:
    """A constant level is its own floor, and the room is at rest."""
    floor = hear(NoiseFloor(), 6.0, -55.0)
    assert (floor.dbfs, floor.unrest_db, floor.room) == (-55.0, 0.0, Loudness.QUIET)


def test_speech_does_not_lift_the_floor() -> None:
    """Three seconds of speech in five leave it where it was."""
    floor = hear(hear(NoiseFloor(), 5.0, -55.0), 3.0, -20.0)
    assert floor.dbfs == -55.0


def test_an_engine_that_starts_becomes_the_floor() -> None:
    """Steady noise is the room after the window, however loud, and falls away in a second."""
    floor = hear(hear(NoiseFloor(), 5.0, -55.0), 5.0, -30.0)
    assert (floor.dbfs, floor.room) == (-30.0, Loudness.LOUD)
    assert hear(floor, 1.1, -55.0).dbfs == -55.0


def test_the_verdict_goes_back_only_well_below_the_limit() -> None:
    """Hysteresis: 2 dB under the limit is still too loud, 5 dB under it is not."""
    floor = hear(NoiseFloor(), 6.0, -27.0)
    assert floor.room is Loudness.TOO_LOUD
    assert hear(floor, 6.0, -30.0).room is Loudness.TOO_LOUD
    assert hear(floor, 6.0, -33.0).room is Loudness.LOUD
    assert hear(NoiseFloor(), 6.0, -30.0).room is Loudness.LOUD


def test_the_verdict_waits_until_enough_was_heard() -> None:
    """A bang at the start is not the room."""
    assert hear(NoiseFloor(), 0.9, -10.0).room is Loudness.QUIET
    assert hear(NoiseFloor(), 1.1, -10.0).room is Loudness.TOO_LOUD


def test_gusts_are_unrest() -> None:
    """A level that goes up and down every half second is told from a steady one."""
    floor = NoiseFloor()
    for _ in range(8):
        floor = hear(hear(floor, 0.4, -40.0), 0.1, -50.0)
    assert floor.unrest_db == pytest.approx(10.0, abs=0.1)


@given(st.lists(st.floats(-100.0, 0.0), min_size=1, max_size=400))
def test_the_floor_lies_among_what_was_heard(levels: list[float]) -> None:
    """Whatever comes, the floor is one of the levels of the window, and the window keeps its length."""
    floor = NoiseFloor()
    for level in levels:
        floor = floor.after(BLOCK, level)
    assert floor.dbfs in levels[-len(floor.recent) :]
    assert floor.unrest_db >= 0.0
    assert floor.heard_seconds == pytest.approx(BLOCK * len(floor.recent))
    assert floor.heard_seconds < floor.limits.window_seconds + BLOCK


@pytest.mark.parametrize(
    ("before", "dbfs", "room"),
    [
        (-60.0, -42.1, Loudness.QUIET),
        (-60.0, -42.0, Loudness.LOUD),
        (-60.0, -28.1, Loudness.LOUD),
        (-60.0, -28.0, Loudness.TOO_LOUD),
        (-35.0, -46.0, Loudness.LOUD),
        (-35.0, -46.1, Loudness.QUIET),
        (-35.0, -28.1, Loudness.LOUD),
        (-20.0, -32.0, Loudness.TOO_LOUD),
        (-20.0, -32.1, Loudness.LOUD),
        (-20.0, -46.0, Loudness.LOUD),
        (-20.0, -46.1, Loudness.QUIET),
    ],
)
def test_a_limit_belongs_to_the_louder_side(before: float, dbfs: float, room: Loudness) -> None:
    """-42 is loud, -28 is too loud; back only below 4 dB under each."""
    assert hear(hear(NoiseFloor(), 6.0, before), 6.0, dbfs).room is room


def test_the_verdict_moves_with_the_first_second_heard() -> None:
    """Half-second blocks: one is too little, two are enough."""
    one = NoiseFloor().after(0.5, -10.0)
    assert (one.room, one.after(0.5, -10.0).room) == (Loudness.QUIET, Loudness.TOO_LOUD)


def test_a_fifth_of_the_window_lies_at_the_floor() -> None:
    """Of five one-second blocks the quietest is the floor; of six the oldest has left the window."""
    floor = NoiseFloor()
    for dbfs in (-70.0, -50.0, -40.0, -30.0, -20.0):
        floor = floor.after(1.0, dbfs)
    assert (floor.dbfs, floor.heard_seconds) == (-70.0, 5.0)
    later = floor.after(1.0, -45.0)
    assert (later.dbfs, later.heard_seconds) == (-50.0, 5.0)
