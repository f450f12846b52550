"""What `eyesout bus` reports, as data."""

import json
from pathlib import Path
from typing import Any

import pytest

from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.model.instrument import Seat
from runner.airplane.model.situation import everything_works, on_battery
from runner.airplane.model.wiring import Service
from runner.report.bus.bus_report import bus_dict, bus_report

AIRPLANES = Path(__file__).parents[3] / "checklists" / "airplanes"
MERLOW = load_airplane(AIRPLANES / "merlow-ml2.yaml")
RESERVE = bus_report(MERLOW, on_battery(MERLOW, "reserve"))


@pytest.fixture(scope="module")
def plain() -> Any:
    """The reserve report as a reader of the JSON has it."""
    return json.loads(json.dumps(bus_dict(RESERVE)))


def test_the_json_names_every_load_with_its_life_and_path(plain: Any) -> None:
    """Alive with its way, dead with its breaks, and how it is normally."""
    assert set(plain["loads"]) == set(MERLOW.loads)
    radio, radar = plain["loads"]["communication 2"], plain["loads"]["weather radar"]
    assert radio["life"] == "alive"
    assert radio["path"][0] == "main battery"
    assert radio["breaks"] == []
    assert (radar["life"], radar["normally"]) == ("dead", "alive")
    assert radar["breaks"][0] == 'battery relay is open in "reserve"'


def test_the_json_has_both_seats_and_the_rule(plain: Any) -> None:
    """Each seat's senses with their power, each row with its paragraph."""
    assert plain["fuller_seat"] == "left"
    left, right = plain["seats"]["left"], plain["seats"]["right"]
    assert left["keeps"]["attitude"][0] == {
        "shown_by": "left attitude",
        "power": "reserve bus (main battery)",
    }
    assert right["keeps"]["navigation"] == []
    kept = {row["paragraph"]: row["kept"] for row in left["91.205(d)"]}
    assert kept["91.205(d)(8)"]
    assert not kept["91.205(d)(7)"]


def test_the_json_has_the_currents(plain: Any) -> None:
    """The battery's is the sum over its live loads."""
    live = [MERLOW.loads[name].amps for name, load in plain["loads"].items() if load["life"] == "alive"]
    assert plain["sources_amps"]["main battery"] == pytest.approx(sum(live), abs=0.01)
    assert not plain["buses"]["centre bus"]["alive"]
    assert plain["buses"]["reserve bus"]["carried_by"] == ["main battery"]


def test_partial_instruments_come_with_their_live_and_dead_parts() -> None:
    """The direction indicator keeps its card and loses its digits."""
    found = {name: (live, dead) for name, live, dead in RESERVE.partial()}
    assert found["left direction indicator"] == (("card", "needle"), ("digits",))
    assert found["left fan speed"] == (("needle",), ("digits",))


def test_what_is_gone_is_not_named_twice() -> None:
    """An engine gauge's digits stand for the supply behind them."""
    lost = dict(RESERVE.gone())
    assert "left pitot heat" in lost[Service.ICE]
    assert "left fan speed digits" in lost[Service.ENGINE]
    assert "left fan supply" not in lost[Service.ENGINE]


def test_nothing_is_gone_when_everything_works() -> None:
    """The normal picture beside itself."""
    report = bus_report(MERLOW, everything_works(MERLOW))
    assert all(not names for _, names in report.gone())
    assert not list(report.partial())
    assert report.fuller is Seat.RIGHT
