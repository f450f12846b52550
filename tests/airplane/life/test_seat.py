"""What each seat keeps."""

from dataclasses import replace

from runner.airplane.life.lively import picture
from runner.airplane.life.seat import dark, fuller_seat, gone, seat_view
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import Seat, Sense
from runner.airplane.model.rule import ROWS
from runner.airplane.model.situation import everything_works, on_battery
from runner.airplane.model.wiring import Service


def test_the_seat_with_vacuum_attitude_heading_and_altimeter_is_the_fuller_one(tarn: Airplane) -> None:
    """Common practice, no source: one flies from the seat that keeps vacuum or own-battery instruments."""
    reserve = picture(tarn, on_battery(tarn, "essential"))
    right = seat_view(reserve, Seat.RIGHT)
    assert fuller_seat(reserve) is Seat.RIGHT
    assert [kept.outlives_battery for kept in right.kept[Sense.ATTITUDE]] == [True]
    assert right.kept[Sense.DIRECTION]
    assert right.kept[Sense.ALTITUDE]
    assert not seat_view(reserve, Seat.LEFT).kept[Sense.ALTITUDE]


def test_the_other_airplane_is_flown_from_the_other_seat(merlow: Airplane) -> None:
    """The Merlow's reserve keeps the left side's gyros."""
    assert fuller_seat(picture(merlow, on_battery(merlow, "reserve"))) is Seat.LEFT


def test_no_seat_meets_the_generator_row_on_the_battery(shipped: Airplane) -> None:
    """91.205(d)(7) asks for a generator; on the battery alone there is none, for any seat."""
    row = next(row for row in ROWS if row.paragraph == "91.205(d)(7)")
    reserve = picture(shipped, on_battery(shipped, shipped.selector.reserve))
    normal = picture(shipped, everything_works(shipped))
    for seat in (Seat.LEFT, Seat.RIGHT):
        assert not seat_view(reserve, seat).meets(row)
        assert seat_view(normal, seat).meets(row)


def test_a_row_is_met_only_while_something_senses_it(merlow: Airplane) -> None:
    """The Merlow's left side keeps all but the generator: its turn indicator has a battery of its own."""
    left = seat_view(picture(merlow, on_battery(merlow, "reserve")), Seat.LEFT)
    missing = [row.paragraph for row in ROWS if not left.meets(row)]
    assert missing == ["91.205(d)(7)"]


def test_seats_that_keep_the_same_are_called_alike(small: Airplane) -> None:
    """With the gyro's breaker out and the pump stopped, neither seat has anything of its own."""
    nothing = replace(
        on_battery(small, "reserve"), pulled=frozenset({"gyro"}), lost=frozenset({"generator", "air pump"})
    )
    assert fuller_seat(picture(small, nothing)) is None


def test_what_is_gone_is_named_by_service(merlow: Airplane) -> None:
    """Common practice, no source: the reserve sheds pitot heat and with it all ice protection."""
    before = picture(merlow, everything_works(merlow))
    after = picture(merlow, on_battery(merlow, "reserve"))
    ice = [load.name for load in merlow.loads.values() if load.service is Service.ICE]
    assert list(gone(before, after, Service.ICE)) == ice
    assert "left pitot heat" in ice
    assert gone(before, after, Service.WARNING) == ("caution panel",)


def test_digits_go_dark_while_their_needles_stay(merlow: Airplane) -> None:
    """Common practice, no source: engine needles that need no power stay, their digits go."""
    before = picture(merlow, everything_works(merlow))
    after = picture(merlow, on_battery(merlow, "reserve"))
    engine = dark(before, after, Sense.ENGINE)
    assert "left fan speed digits" in engine
    assert "left fan speed needle" not in engine
