"""Alerts: what must be heard whatever a run is doing. One is said again until a prompt with it was heard out.

An alert is named by its clock's item, or BATTERY; its words are made anew each time that it is said.
"""

from collections.abc import Iterable
from typing import Final

from runner.core import prompt
from runner.core.battery import share_used
from runner.core.entry import BatteryWarned, ClockAdvised, ClockLimitPassed, Entry
from runner.core.progress import Progress

BATTERY: Final = ""
"""The caution of the battery; no item has this name."""


def alerts_in(entries: Iterable[Entry]) -> tuple[str, ...]:
    """The alerts that these entries raise."""
    raised = (
        BATTERY if isinstance(entry, BatteryWarned) else entry.item
        for entry in entries
        if isinstance(entry, (ClockAdvised, ClockLimitPassed, BatteryWarned))
    )
    return tuple(dict.fromkeys(raised))


def late_clocks(progress: Progress) -> tuple[str, ...]:
    """The alerts of open clocks past their advise time."""
    return tuple(clock.item for clock in progress.open_clocks if clock.is_advised)


def standing_alerts(progress: Progress) -> tuple[str, ...]:
    """All that a record has raised and that still counts: said when a run is reopened, heard or not."""
    battery = () if progress.battery_warning is None else (BATTERY,)
    return (*late_clocks(progress), *battery)


def still_counting(progress: Progress, alerts: Iterable[str]) -> tuple[str, ...]:
    """These alerts in the order of speaking, clocks first, less those of clocks that have ended."""
    wanted = set(alerts)
    clocks = tuple(clock.item for clock in progress.open_clocks if clock.item in wanted)
    return (*clocks, BATTERY) if BATTERY in wanted else clocks


def alert_words(progress: Progress, alert: str, at: float) -> str:
    """What is said for it at this time, seconds since the epoch."""
    if alert == BATTERY:
        return prompt.battery(share_used(progress, at))
    return prompt.advice(progress, progress.clocks[alert], at)
