"""Situations."""

from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import everything_works, on_battery


def test_on_battery_only_the_battery_is_left(shipped: Airplane) -> None:
    """Generators and ground power are lost, nothing else is."""
    situation = on_battery(shipped, shipped.selector.reserve)
    assert set(shipped.sources) - situation.lost == {shipped.battery.name}
    assert not situation.pulled


def test_everything_works_is_the_normal_position_with_nothing_lost(shipped: Airplane) -> None:
    """The picture that every other one is compared with."""
    situation = everything_works(shipped)
    assert situation.position == shipped.selector.normal
    assert situation.lost == {"ground power"}
