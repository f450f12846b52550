"""What shares a breaker or a bus."""

import pytest

from runner.airplane.life.neighbour import loads_behind, neighbours_of
from runner.airplane.model.airplane import Airplane


def test_a_radio_shares_its_breaker_with_its_display(merlow: Airplane) -> None:
    """A squawk on the one names the other."""
    found = neighbours_of(merlow, "communication 2")
    assert found.on_breaker == ("communication 2 display",)
    assert "left attitude gyro" in found.on_bus
    assert "communication 2" not in found.on_bus
    assert "weather radar" not in found.on_bus


def test_an_instrument_has_the_neighbours_of_the_loads_behind_it(merlow: Airplane) -> None:
    """The distance digits hang on the avionics bus through their unit."""
    assert loads_behind(merlow, "left direction indicator digits") == {"distance unit"}
    assert "communication 1" in neighbours_of(merlow, "left direction indicator digits").on_bus


def test_an_instrument_on_air_has_no_neighbours(merlow: Airplane) -> None:
    """No load stands behind it."""
    found = neighbours_of(merlow, "left airspeed")
    assert found.on_breaker == ()
    assert found.on_bus == ()


def test_an_unknown_name_is_a_key_error(merlow: Airplane) -> None:
    """The caller checks names before it asks."""
    with pytest.raises(KeyError, match="moon lamp"):
        neighbours_of(merlow, "moon lamp")
