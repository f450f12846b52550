"""What `eyesout bus` reports, as data."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from runner.airplane.load.airplane_load import load_airplane
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
    assert radar["breaks"][0] == 'ground relay is open in "reserve"'


def test_the_json_has_both_seats_and_the_rule(plain: Any) -> None:
    """Each seat's senses with their power, each row with its paragraph."""
    assert plain["fuller_seat"] == "left"
    left, right = plain["seats"]["left"], plain["seats"]["right"]
    assert left["keeps"]["attitude"][0] == {
        "shown_by": "left attitude",
        "power": "reserve bus (main battery)",
        "volts": [pytest.approx(plain["buses"]["reserve bus"]["volts"])],
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
    assert report.fuller is None


def test_the_json_has_volts_and_no_limit_passed_on_the_reserve(plain: Any) -> None:
    """Twenty nickel-cadmium cells at nine tenths of charge, less what the reserve's current drops."""
    assert 25 < plain["buses"]["reserve bus"]["volts"] < plain["sources"]["main battery"]["volts"] < 26
    assert plain["buses"]["centre bus"]["volts"] == 0
    assert plain["sources"]["left generator"] == {"lost": True, "amps": 0, "volts": None}
    assert plain["limits"] == []


def test_an_overloaded_generator_and_its_breaker_are_told() -> None:
    """A 20 A alternator on 27.9 A of loads: at its limit, and the battery gives the rest."""
    tarn = load_airplane(AIRPLANES / "tarn-qx83.yaml")
    alone = replace(everything_works(tarn), lost=frozenset({"starter generator", "ground power"}))
    report = bus_report(tarn, replace(alone, position="essential"))
    messages = [limit.message for limit in report.limits()]
    assert messages == [
        "standby alternator gives 20.0 A, its limit, and sags to 25.0 V; battery gives 8.6 A more"
    ]


def test_a_load_that_drops_out_is_dead_with_its_volts(tmp_path: Path) -> None:
    """Alive by the wiring, dead for want of volts; the path and the limits say so."""
    words = (AIRPLANES / "merlow-ml2.yaml").read_text("utf-8")
    path = tmp_path / "merlow.yaml"
    path.write_text(
        words.replace("breaker: nav 1, amps: 1.2", "breaker: nav 1, drop_out_volts: 27, amps: 1.2")
    )
    airplane = load_airplane(path)
    report = bus_report(airplane, on_battery(airplane, "reserve"))
    load = json.loads(json.dumps(bus_dict(report)))["loads"]["navigation 1"]
    assert load["life"] == "dead"
    assert "drops out at 25.7 V, under its 27 V" in load["breaks"][0]
    assert [limit.name for limit in report.limits()] == ["navigation 1"]


def test_a_load_over_its_breaker_is_told_with_the_time_until_it_opens(tmp_path: Path) -> None:
    """10 A behind 3 A: 333 % of the rating, between half a minute at 200 % and 3.5 s at 400 %."""
    words = (AIRPLANES / "merlow-ml2.yaml").read_text("utf-8")
    path = tmp_path / "merlow.yaml"
    path.write_text(words.replace("breaker: left audio, amps: 0.5", "breaker: left audio, amps: 10"))
    airplane = load_airplane(path)
    (limit,) = bus_report(airplane, on_battery(airplane, "reserve")).limits()
    assert limit.message == 'breaker "left audio" carries 10.0 A of its 3 A; it opens within about 6 s'
    assert 3.5 < limit.seconds < 30
