"""Minutes on the batteries by rundown: the published example, scipy's integrator, and what is lost when."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from runner.airplane.electric.likely import stamina_spread
from runner.airplane.minutes.capacity import Conditions, planned_conditions
from runner.airplane.minutes.chance import spread_of
from runner.airplane.minutes.reckoning import demand, endurance
from runner.airplane.minutes.rundown import CHARGE_STEP
from runner.airplane.minutes.stamina import Stamina, stamina
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.wiring import Phase

AirplaneOf = Callable[[str], Airplane]
ON = date(2026, 1, 1)

EXAMPLE = """\
title: Example, invented wiring around a published load analysis
registration: QQ-EX
note: invented
selector:
  {name: selector, positions: ["off", normal, reserve], normal: normal, parked: "off", reserve: reserve}
sources:
  battery: {kind: battery, bus: bus, chemistry: lead-acid, cells: 6, ampere_hours: 35, hour_rate: 1,
  end_volts: 10, tested: {percent: 75, date: 2026-01-01}, milliohms: 0}
buses: [bus, shed bus, landing bus, cruise bus]
links:
  shed: {kind: relay, joins: [bus, shed bus], closed_in: normal}
  landing: {kind: relay, joins: [bus, landing bus], closed_in: reserve}
  cruise: {kind: relay, joins: [bus, cruise bus], closed_in: reserve}
breakers: {one: 100}
loads:
  until shed: {bus: shed bus, amps: 43.5, service: power, keep: must}
  cruise: {bus: cruise bus, amps: 34.0, service: power, keep: must}
  landing: {bus: landing bus, amps: 14.1, service: power, keep: must, duty: {cruise: 0}}
instruments:
  meter: {seat: centre, senses: volts, driven_by: itself}
voltmeter:
  instrument: meter
  resolution: 0.1
  at_rest: {pass: [12, 13], caution: [12, 13]}
  on_reserve: {pass: [12, 13], caution: [12, 13]}
battery_warn_share: 0.1
endurance: {required_minutes: 30, recognise_minutes: 5, approach_minutes: 10}
"""


def planned(airplane: Airplane) -> Conditions:
    """On the day of its test."""
    return planned_conditions(airplane.battery, ON)


def flown(airplane: Airplane) -> Stamina:
    """As planned."""
    return stamina(airplane, planned(airplane), airplane.endurance)


def test_the_published_example_is_exact(airplane_of: AirplaneOf) -> None:
    """0.75 x 35 Ah, 5 min at 43.5 A, 10 min at 48.1 A, the rest at 34 A: 40.8 min.

    190-02246-10 Rev 11 p. 3-38, whose ampere-minutes know neither volts nor resistance.
    """
    found = flown(airplane_of(EXAMPLE))
    assert found.minutes == pytest.approx(40.779, abs=0.02)
    assert f"{found.minutes:.1f}" == "40.8"
    assert found.phase_minutes[Phase.CRUISE] == pytest.approx(25.779, abs=0.02)


def test_without_resistance_it_is_the_ampere_minute_method(shipped: Airplane) -> None:
    """Constant currents, no resistance, a battery that stays at its bay's temperature: the closed form."""
    battery = replace(shipped.battery, milliohms=0.0)
    ideal = replace(shipped, sources={**shipped.sources, battery.name: battery})
    plain = endurance(ideal, planned(ideal), ideal.endurance)
    assert flown(ideal).minutes == pytest.approx(plain.total_minutes, rel=1e-3)


def lamp_airplane(small_yaml: str, airplane_of: AirplaneOf, draws: str, floor: float = 0.0) -> Airplane:
    """One load of 20 A at 28 V on the reserve, drawn in the given way, and nothing else that draws."""
    words = small_yaml
    for amps in ("amps: 2, surge: 5", "amps: 1,", "amps: 0.5"):
        words = words.replace(amps, "amps: 0" + ("," if amps.endswith(",") else ""))
    words = words.replace("reserve feed: 20", "reserve feed: 100").replace("radio: 5\n", "radio: 50\n")
    words = words.replace("amps: 3, service", f"amps: 20, draws: {draws}, drop_out_volts: {floor:g}, service")
    words = words.replace("recognise_minutes: 5", "recognise_minutes: 0").replace(
        "approach_minutes: 10", "approach_minutes: 0"
    )
    return airplane_of(words.replace("peukert: 1.1", "peukert: 1.0"))


@pytest.mark.parametrize(("draws", "power"), [("power", 1), ("current", 0), ("resistance", -1)])
def test_charge_runs_down_as_scipy_integrates_it(
    small_yaml: str, airplane_of: AirplaneOf, draws: str, power: int
) -> None:
    """One battery and one load as a differential equation of its own, by scipy's DOP853."""
    airplane = lamp_airplane(small_yaml, airplane_of, draws)
    table = np.array([[0, 1.982], [0.25, 2.010], [0.5, 2.040], [0.75, 2.075], [1, 2.108]])
    ampere_hours, full, wire = 30 * 0.95, 12 * 0.030 / 30, 0.001 + 0.1 / 100
    empty = (12 * 1.982 - 20) / 30
    least, most = 1 / 1.05, 1 / 0.05

    def volts_and_amps(charge: float) -> tuple[float, float]:
        emf = 12 * np.interp(charge, table[:, 0], table[:, 1])
        inner = full + (empty - full) * (1 / (charge + 0.05) - least) / (most - least)
        volts = emf
        for _ in range(200):
            amps = 20 * (28 / volts) ** power
            volts = emf - amps * (inner + wire)
        return emf - amps * inner, amps

    def rate(_: float, state: np.ndarray) -> list[float]:
        return [-volts_and_amps(max(state[0], 0.0))[1] / ampere_hours / 60]

    def under(_: float, state: np.ndarray) -> float:
        return float(min(state[0], volts_and_amps(max(state[0], 0.0))[0] - 20.0))

    under.terminal = True  # type: ignore[attr-defined]
    reference = solve_ivp(rate, (0, 300), [1.0], method="DOP853", events=under, rtol=1e-9, atol=1e-9)
    assert flown(airplane).minutes == pytest.approx(float(reference.t[-1]), rel=2e-3)


def test_constant_power_draws_more_as_volts_fall(small_yaml: str, airplane_of: AirplaneOf) -> None:
    """A regulator's current grows from the first minute to the last, a lamp's falls."""
    for draws, sign in (("power", 1), ("resistance", -1)):
        instants = flown(lamp_airplane(small_yaml, airplane_of, draws)).rundown.instants
        amps = [each.amps["battery"] for each in instants if each.states["battery"].charge > 0.01]
        assert sign * (amps[-1] - amps[0]) > 0.5


def test_a_load_under_its_floor_is_lost_at_its_minute_and_named(
    small_yaml: str, airplane_of: AirplaneOf
) -> None:
    """A radio that must be kept and needs 23.5 V ends the endurance before the battery is empty."""
    whole = flown(lamp_airplane(small_yaml, airplane_of, "power"))
    cut = flown(lamp_airplane(small_yaml, airplane_of, "power", floor=23.5))
    assert cut.minutes < whole.minutes - 3
    assert [(each.name, each.is_kept) for each in cut.rundown.lapses] == [("radio", True)]
    assert cut.rundown.lapses[0].minute == pytest.approx(cut.minutes, abs=0.01)
    assert "drops out at 23.5 V" in cut.rundown.lapses[0].cause


def test_a_load_that_may_go_is_named_and_the_flight_goes_on(small_yaml: str, airplane_of: AirplaneOf) -> None:
    """The gyro supply is wanted, not kept."""
    words = small_yaml.replace("amps: 2, surge: 5", "amps: 2, surge: 5, drop_out_volts: 24")
    found = flown(airplane_of(words))
    assert [(each.name, each.is_kept) for each in found.rundown.lapses] == [("gyro supply", False)]
    assert 0 < found.rundown.lapses[0].minute < found.minutes


def test_a_breaker_that_bears_too_much_opens_in_its_time(small_yaml: str, airplane_of: AirplaneOf) -> None:
    """20 A through the 10 A feed of the reserve: half a minute, then all of it is dead."""
    words = small_yaml.replace("reserve feed: 20", "reserve feed: 3.25")
    found = flown(airplane_of(words.replace("recognise_minutes: 5", "recognise_minutes: 0")))
    opened = next(each for each in found.rundown.lapses if each.name == "reserve feed")
    assert opened.minute * 60 == pytest.approx(30, abs=1)
    assert found.minutes == pytest.approx(opened.minute, abs=0.1)


def test_an_alternator_still_alive_goes_on_for_ever_when_it_can_carry_the_load(tarn: Airplane) -> None:
    """The standby alternator's 20 A against 13.9 A in cruise."""
    found = stamina(tarn, planned(tarn), tarn.endurance, alive=frozenset({"standby alternator"}))
    assert found.goes_on
    assert found.rundown.instants[-1].states["battery"].charge > 0.9


def test_a_cold_battery_warms_by_its_own_losses(tarn: Airplane) -> None:
    """92 A in recognition heat it by some tenths of a degree, never by tens."""
    states = [each.states["battery"].celsius for each in flown(tarn).rundown.instants]
    assert 0.3 < max(states) - states[0] < 10


def test_two_batteries_share_and_both_run_down(small_yaml: str, airplane_of: AirplaneOf) -> None:
    """A second one on the reserve bus lengthens the flight by about its own ampere-hours."""
    second = (
        "  spare: {kind: battery, bus: reserve bus, chemistry: lead-acid, cells: 12, ampere_hours: 10,"
        " hour_rate: 1, end_volts: 20, tested: {percent: 95, date: 2026-01-01}}\n  generator: {"
    )
    one = flown(airplane_of(small_yaml)).minutes
    two = flown(airplane_of(small_yaml.replace("  generator: {", second)))
    assert one + 30 < two.minutes < one + 150
    assert two.rundown.instants[-1].states["spare"].charge < 0.1


def test_a_shorter_step_changes_nothing(tarn: Airplane, monkeypatch: pytest.MonkeyPatch) -> None:
    """The midpoint rule has converged at its longest step."""
    coarse = flown(tarn).minutes
    monkeypatch.setattr("runner.airplane.minutes.rundown.CHARGE_STEP", CHARGE_STEP / 8)
    assert flown(tarn).minutes == pytest.approx(coarse, abs=0.1)


def test_the_low_case_is_that_of_the_samples_where_volts_do_not_matter(airplane_of: AirplaneOf) -> None:
    """On the published example the spread of ampere-minutes and the spread by rundown are one."""
    airplane = airplane_of(EXAMPLE)
    needs = demand(airplane, airplane.endurance.positions)
    plain = spread_of(airplane.battery, planned(airplane), needs, airplane.endurance, samples=5000)
    found = stamina_spread(airplane, planned(airplane), airplane.endurance, samples=5000)
    assert (found.low, found.median) == pytest.approx((plain.low, plain.median), rel=1e-3)


def test_a_floor_shortens_the_low_case_too(small_yaml: str, airplane_of: AirplaneOf) -> None:
    """Lower than the ampere-minutes by what the floor costs."""
    airplane = lamp_airplane(small_yaml, airplane_of, "power", floor=23.5)
    needs = demand(airplane, airplane.endurance.positions)
    plain = spread_of(airplane.battery, planned(airplane), needs, airplane.endurance, samples=2000)
    found = stamina_spread(airplane, planned(airplane), airplane.endurance, samples=2000)
    assert found.low < plain.low - 2
