"""What a view knows about its own figures."""

from dataclasses import replace

import pytest

from runner.screen.view import BatteryView, ClockState
from tests.screen.sample import LEFT


@pytest.mark.parametrize(
    ("seconds", "state"),
    [
        (0.0, ClockState.RUNNING),
        (59.9, ClockState.RUNNING),
        (60.0, ClockState.ADVISE),
        (119.9, ClockState.ADVISE),
        (120.0, ClockState.LIMIT),
    ],
)
def test_a_clock_knows_where_it_stands(seconds: float, state: ClockState) -> None:
    """Advise at 60 s, limit 120 s, both included."""
    assert replace(LEFT, elapsed_seconds=seconds).state is state


@pytest.mark.parametrize(
    ("used", "share", "is_warned"), [(0, 0, False), (1.69, 0.0994, False), (1.71, 0.1006, True)]
)
def test_the_battery_warns_from_its_share_on(used: float, share: float, *, is_warned: bool) -> None:
    """A tenth of 17 Ah is 1.7 Ah."""
    battery = BatteryView(used, 17.0, 0.1)
    assert battery.share == pytest.approx(share, abs=1e-4)
    assert battery.is_warned is is_warned


def test_a_battery_without_capacity_has_no_share() -> None:
    """Nothing is divided by zero, and nothing is warned of."""
    assert BatteryView(1.0, 0.0, 0.1).share == 0.0
    assert not BatteryView(1.0, 0.0, 0.1).is_warned
