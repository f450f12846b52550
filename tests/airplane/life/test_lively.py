"""Alive, dead or partial, and by what power."""

from dataclasses import replace

from runner.airplane.life.lively import Life, picture
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import everything_works, on_battery


def test_a_gauge_with_a_live_needle_and_dead_digits_is_partial(small: Airplane) -> None:
    """Common practice, no source: a needle that needs no power stays while its digits go."""
    lives = picture(small, on_battery(small, "reserve")).lives()
    assert lives["gauge"] is Life.PARTIAL
    assert lives["gauge needle"] is Life.ALIVE
    assert lives["gauge digits"] is Life.DEAD


def test_everything_lives_in_normal(shipped: Airplane) -> None:
    """With every source working each load, instrument and part shows life."""
    assert set(picture(shipped, everything_works(shipped)).lives().values()) == {Life.ALIVE}


def test_a_lost_vacuum_pump_kills_what_it_drives(small: Airplane) -> None:
    """A pump is lost like a source."""
    lost = replace(everything_works(small), lost=frozenset({"air pump"}))
    lives = picture(small, lost).lives()
    assert lives["spare horizon"] is Life.DEAD
    assert lives["horizon"] is Life.ALIVE


def test_air_instruments_live_with_every_source_lost(shipped: Airplane) -> None:
    """Common practice, no source: airspeed and vertical speed live on air alone."""
    dark = replace(on_battery(shipped, "off"), lost=frozenset(shipped.sources))
    lives = picture(shipped, dark).lives()
    assert lives["right airspeed"] is Life.ALIVE
    assert lives["right vertical speed"] is Life.ALIVE


def test_a_standby_turn_indicator_falls_back_on_its_own_battery(merlow: Airplane) -> None:
    """Common practice, no source: a standby instrument lives on its own battery."""
    part = merlow.instruments["left turn indicator"].parts[0]
    normal = picture(merlow, everything_works(merlow))
    reserve = picture(merlow, on_battery(merlow, "reserve"))
    powers = [each.power_of(drive) for each in (normal, reserve) if (drive := each.drive_of(part))]
    assert powers == ["left main bus (left generator, right generator)", "its own battery, 40 min"]


def test_the_words_for_each_power_name_where_it_comes_from(tarn: Airplane) -> None:
    """Bus and source, vacuum and pump, air, or the instrument itself."""
    reserve = picture(tarn, on_battery(tarn, "essential"))
    words = {
        name: reserve.power_of(drive)
        for name, instrument in tarn.instruments.items()
        if (drive := reserve.drive_of(instrument.parts[-1]))
    }
    assert words["microphone"] == "minimum bus (battery)"
    assert words["right attitude"] == "vacuum (instrument air pump)"
    assert words["right airspeed"] == "air (pitot and static)"
    assert words["left slip ball"] == "itself"
