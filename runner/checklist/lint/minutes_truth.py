"""Bands tied to endurance: a reading that passes must leave the required minutes on the battery.

Pass means that they hold in the low case, caution that they hold at best.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from runner.airplane.electric.band import Meter
from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Check
from runner.checklist.lint.branch import branches
from runner.checklist.lint.claim import steps
from runner.checklist.lint.finding import Finding, Grade, found


def judge_bands(check: Check, airplane: Airplane, on: date) -> tuple[Finding, ...]:
    """An error for each reading of the voltmeter whose bands let too little through, with the minutes."""
    meter = Meter(airplane, on)
    read = dict.fromkeys(
        (step.item.name, step.after)
        for branch in branches(check)
        for step in steps(check, branch, airplane.selector.parked)
        if step.item.body.number is not None and airplane.voltmeter.name in step.item.proves
    )
    return tuple(
        finding for name, position in read for finding in _judged(check, airplane, meter, name, position)
    )


def _judged(check: Check, airplane: Airplane, meter: Meter, name: str, position: str) -> Iterator[Finding]:
    item = check.item(name)
    number, required = item.body.number, airplane.endurance.required_minutes
    if number is None:
        return
    floors, step = meter.floors(position), float(number.resolution)
    if floors.passing is None:
        message = f"even a full battery does not give {required:g} min in the low case; no band promises them"
        yield found(check, item, Grade.WARNING, message)
        return
    if float(number.pass_band.low) < floors.passing - step / 2:
        worth = meter.worth(position, float(number.pass_band.low))
        message = (
            f"pass from {number.pass_band.low} V lets {worth.low:.0f} min through in the low case, and"
            f" {required:g} are required; begin it at {_nearest(floors.passing, step)}"
        )
        yield found(check, item, Grade.ERROR, message)
    lowest = None if number.caution_band is None else float(number.caution_band.low)
    if lowest is not None and floors.caution is not None and lowest < floors.caution - step / 2:
        worth = meter.worth(position, lowest)
        message = (
            f"caution from {lowest:g} V lets {worth.best:.0f} min through at best, and {required:g} are"
            f" required; begin it at {_nearest(floors.caution, step)}, and let what is lower be a squawk"
        )
        yield found(check, item, Grade.ERROR, message)


def _nearest(volts: float, step: float) -> str:
    """The value that the meter shows there: what it cannot tell is not held against a band."""
    return f"{round(volts / step) * step:.10g}"
