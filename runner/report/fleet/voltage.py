"""PURE: which readings of a check are the volts before the reserve and the volts on it; and each limit."""

from collections.abc import Mapping
from dataclasses import dataclass

from runner.checklist.format.check import Check, Item
from runner.language.catalogue import Unit
from runner.trend.series import Limits


@dataclass(frozen=True, slots=True)
class VoltagePair:
    """Two items of a check: their difference is the sag."""

    before: str
    on_reserve: str


def voltage_pair(check: Check) -> VoltagePair | None:
    """The last volts before the selector first moves and the first volts after; None without both."""
    items = list(check.items)
    moves = [place for place, item in enumerate(items) if item.body.selects is not None]
    if not moves:
        return None
    first, until = moves[0], moves[1] if len(moves) > 1 else len(items)
    before = [item.name for item in items[:first] if _is_volts(item)]
    after = [item.name for item in items[first:until] if _is_volts(item)]
    return VoltagePair(before[-1], after[0]) if before and after else None


def _is_volts(item: Item) -> bool:
    return item.body.number is not None and item.body.number.unit is Unit.VOLTS


def limits_of(check: Check) -> Mapping[str, Limits]:
    """The limits of each gyro and each reading: a spin-up's limit, a reading's pass band."""
    limits: dict[str, Limits] = {}
    for item in check.items:
        if item.body.clock is not None:
            limits[item.body.clock.gyro] = Limits(high=item.body.clock.limit_seconds)
        elif item.body.number is not None:
            limits[item.name] = Limits(*item.body.number.pass_band.ends())
    return limits
