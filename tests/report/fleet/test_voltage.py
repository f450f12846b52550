from dataclasses import replace
from pathlib import Path

from runner.checklist.format.check import Section
from runner.checklist.format.check_load import load_check
from runner.checklist.kind.action import Action
from runner.report.fleet.voltage import VoltagePair, limits_of, voltage_pair
from runner.trend.series import Limits

CHECKS = Path(__file__).parents[3] / "checklists"


def test_the_pair_is_the_last_volts_before_the_selector_moves_and_the_first_after() -> None:
    """In the shipped check; the volts after the restoration are neither."""
    assert voltage_pair(load_check(CHECKS / "tarn-reserve.yaml")) == VoltagePair(
        "battery at rest", "volts on essential"
    )


def test_limits_are_the_spin_ups_limit_and_the_readings_pass_band() -> None:
    """By the gyro's name and the item's."""
    limits = limits_of(load_check(CHECKS / "tarn-reserve.yaml"))
    assert limits["turn gyro"] == Limits(high=40.0)
    assert limits["battery at rest"] == Limits(25.2, 26.2)


def test_a_check_that_moves_nothing_has_no_pair() -> None:
    """Without a selector there is no reserve to sag on."""
    check = load_check(CHECKS / "tarn-reserve.yaml")
    still = tuple(
        Section(section.title, tuple(item for item in section.items if not isinstance(item.body, Action)))
        for section in check.sections
    )
    assert voltage_pair(replace(check, sections=still)) is None
