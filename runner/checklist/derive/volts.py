"""Derived readings of the voltmeter: at rest, on the reserve, and at rest again."""

from collections.abc import Iterator
from datetime import date
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from runner.airplane.electric.band import Meter
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import VoltBands
from runner.airplane.model.source import nominal_volts
from runner.checklist.derive.check_sheet import Entry

LEAST_SHARE = Decimal("0.65")
MOST_SHARE = Decimal("1.25")
"""Of the battery's nominal volts: what the meter may show at all; our own choice."""


def volts_item(
    airplane: Airplane, name: str, challenge: str, why: str, bands: VoltBands, *, remedy: str = ""
) -> Entry:
    """A critical reading, its bands brought to steps that the meter can show.

    With a remedy it stops below the volts at which the battery's rated discharge ends.
    """
    step = airplane.voltmeter.resolution
    passing, caution = (_on_steps(*band, step) for band in (bands.passing, bands.caution))
    nominal = Decimal(str(nominal_volts(airplane.battery)))
    floor = min(_down(Decimal(str(airplane.battery.end_volts)), step), caution[0])
    least = min(_down(nominal * LEAST_SHARE, Decimal(1)), floor - step)
    most = max(_up(nominal * MOST_SHARE, Decimal(1)), caution[1] + step)
    return {
        "item": name,
        "challenge": challenge,
        "why": why,
        **({"remedy": remedy} if remedy else {}),
        "reading": {
            "unit": "volts",
            "resolution": float(step),
            "pass": _said(*passing),
            **({"caution": _said(*caution)} if caution != passing else {}),
            "plausible": _said(*_on_steps(least, most, step)),
            **({"stop": f"below {floor}"} if remedy else {}),
        },
        "proves": airplane.voltmeter.name,
    }


def moved_items(airplane: Airplane, on: date) -> Iterator[Entry]:
    """The look that finds a stuck voltmeter; none where it need not move from rest to the reserve."""
    meter, selector = Meter(airplane, on), airplane.selector
    step, charge = float(airplane.voltmeter.resolution), airplane.battery.charge_percent / 100
    if meter.volts(selector.parked, charge) - meter.volts(selector.reserve, charge) < step:
        return
    yield {
        "item": "voltmeter moved",
        "challenge": "Voltmeter, against the rested volts",
        "why": "A meter that shows what it showed at rest is stuck, and every reading of it worth nothing.",
        "state": {"volts fell": "pass", "same as before": "squawk"},
        "proves": airplane.voltmeter.name,
    }


def bands_worth(airplane: Airplane, on: date, position: str, bands: VoltBands) -> VoltBands:
    """The file's bands, begun where the required minutes hold: passing in the low case, caution at best.

    A floor that no charge reaches leaves the file's band as it is.
    """
    floors, step = Meter(airplane, on).floors(position), airplane.voltmeter.resolution
    passing = _begun(bands.passing, floors.passing, step)
    caution = _begun(bands.caution, floors.caution, step)
    return VoltBands(passing, (min(caution[0], passing[0]), caution[1]))


def _begun(band: tuple[Decimal, Decimal], floor: float | None, step: Decimal) -> tuple[Decimal, Decimal]:
    """A band that begins at the floor to the nearest step, if that is higher; never past its end."""
    if floor is None:
        return band
    nearest = (Decimal(str(floor)) / step).to_integral_value() * step
    return min(max(band[0], nearest), band[1]), band[1]


def _on_steps(low: Decimal, high: Decimal, step: Decimal) -> tuple[Decimal, Decimal]:
    """The widest band of whole steps inside the given one."""
    return _up(low, step), _down(high, step)


def _up(number: Decimal, step: Decimal) -> Decimal:
    return (number / step).to_integral_value(ROUND_CEILING) * step


def _down(number: Decimal, step: Decimal) -> Decimal:
    return (number / step).to_integral_value(ROUND_FLOOR) * step


def _said(low: Decimal, high: Decimal) -> str:
    return f"{low} to {high}"
