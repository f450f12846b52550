from runner.trend.series import (
    Maintenance,
    Point,
    Quantity,
    Series,
    baseline,
    resistance,
    response_times,
    sag,
)

GYRO = Series(
    "left gyro", Quantity.SPIN_UP, "seconds", tuple(Point(f"r{at}", float(at), 40.0) for at in range(6))
)


def test_without_maintenance_the_baseline_is_everything_oldest_first() -> None:
    """Points may come in any order."""
    mixed = Series("left gyro", Quantity.SPIN_UP, "seconds", GYRO.points[::-1])
    assert baseline(mixed).points == GYRO.points
    assert baseline(mixed).since is None


def test_maintenance_of_the_series_or_of_the_airplane_begins_a_new_baseline() -> None:
    """The last that concerns it counts, whatever the order of the records; a run at that very time is new."""
    events = [Maintenance(4.0, "gyro replaced", "left gyro"), Maintenance(2.0, "annual inspection")]
    assert baseline(GYRO, events).since == events[0]
    assert [point.at for point in baseline(GYRO, events).points] == [4.0, 5.0]
    assert [point.at for point in baseline(GYRO, events[1:]).points] == [2.0, 3.0, 4.0, 5.0]


def test_maintenance_of_another_series_changes_nothing() -> None:
    """A new battery is no new gyro."""
    assert baseline(GYRO, [Maintenance(4.0, "battery replaced", "battery at rest")]).points == GYRO.points


def test_sag_is_what_the_volts_lose_in_each_run_that_has_both() -> None:
    """A run with one of the two readings has no sag."""
    before = Series(
        "battery at rest", Quantity.READING, "volts", (Point("a", 1.0, 25.4), Point("b", 2.0, 25.2))
    )
    after = Series(
        "volts on reserve", Quantity.READING, "volts", (Point("a", 1.5, 24.6, 3.0), Point("c", 3.0, 24.0))
    )
    assert sag(before, after).points == (Point("a", 1.5, 0.8, 3.0),)
    assert sag(before, after).name == "sag, volts on reserve"


def test_resistance_is_the_sag_per_ampere() -> None:
    """Ohm's law: 0.8 V at 16 A more are 50 milliohms; where the amperes are not known there is none."""
    drop = Series("sag, volts", Quantity.SAG, "volts", (Point("a", 1.0, 0.8, 3.0), Point("b", 2.0, 0.8)))
    found = resistance(drop, {"a": 16.0})
    assert (found.quantity, found.unit) == (Quantity.RESISTANCE, "milliohms")
    assert found.points == (Point("a", 1.0, 50.0, 3.0),)


def test_response_times_are_the_median_of_each_run() -> None:
    """A run without any is left out."""
    runs = (Point("a", 1.0, 0.0), Point("b", 2.0, 0.0))
    series = response_times({"a": [1.0, 9.0, 2.0]}, runs)
    assert [(point.run, point.value) for point in series.points] == [("a", 2.0)]
