"""Settings of the shipped airplanes, as their own checks find them."""

from datetime import date
from functools import cache

from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Check
from runner.drill.played.hidden import Hidden
from runner.drill.played.setting import Setting
from tests.checklist.shipped import shipped_airplane, shipped_check

CASES = (("merlow-ml2", "merlow-reserve"), ("tarn-qx83", "tarn-reserve"), ("pellow-jv62", "pellow-reserve"))
ON = date(2026, 11, 26)


@cache
def drilled(number: int) -> tuple[Airplane, Check]:
    """An airplane with its check."""
    airplane, check = CASES[number]
    return shipped_airplane(airplane), shipped_check(check)


def setting_of(number: int, *hidden: Hidden, seed: int = 0) -> Setting:
    """The airplane as its check finds it."""
    airplane, check = drilled(number)
    off = frozenset(switch for item in check.items for switch in item.moves)
    return Setting(airplane, hidden, ON, seed, off)
