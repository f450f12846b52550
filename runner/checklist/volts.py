"""Derived readings of the voltmeter: at rest, on the reserve, and at rest again."""

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from runner.airplane.instrument import VoltBands
from runner.airplane.model import Airplane
from runner.airplane.source import nominal_volts
from runner.checklist.sheet import Entry

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


def after_bands(bands: VoltBands) -> VoltBands:
    """A battery that has just been drawn from may rest as low as the caution band reaches."""
    return VoltBands((bands.caution[0], bands.passing[1]), bands.caution)


def _on_steps(low: Decimal, high: Decimal, step: Decimal) -> tuple[Decimal, Decimal]:
    """The widest band of whole steps inside the given one."""
    return _up(low, step), _down(high, step)


def _up(number: Decimal, step: Decimal) -> Decimal:
    return (number / step).to_integral_value(ROUND_CEILING) * step


def _down(number: Decimal, step: Decimal) -> Decimal:
    return (number / step).to_integral_value(ROUND_FLOOR) * step


def _said(low: Decimal, high: Decimal) -> str:
    return f"{low} to {high}"
