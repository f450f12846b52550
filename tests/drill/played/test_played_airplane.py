"""The played airplane against the solver and the rundown that it is played from, and against the trade."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runner.airplane.electric.current_network import Electric
from runner.airplane.life.lively import Life
from runner.airplane.minutes.rundown import Leg, Runner
from runner.airplane.model.situation import on_battery
from runner.airplane.model.wiring import Phase
from runner.drill.played.hidden import BASIS, Hidden, HiddenKind, hidden_faults_of
from runner.drill.played.played_airplane import PlayedAirplane, switches_of
from runner.drill.played.setting import Setting, batteries_of
from runner.errors import UsageError
from runner.fault.fault import ailing
from tests.drill.sample import CASES, ON, drilled, setting_of

GYRO = "left attitude gyro"


def ready(setting: Setting) -> PlayedAirplane:
    """With everything switched on that a check looks at, and nothing that wakes the world."""
    airplane = setting.airplane
    played = PlayedAirplane(setting)
    for load in airplane.loads.values():
        if load.switch is not None and load.acts is None and load.duty[Phase.CHECK] > 0:
            played.move(load.switch, "on")
    return played


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_the_panel_never_contradicts_the_solver(data: st.DataObject) -> None:
    """With any faults in any position the bus of the meter has the solver's volts, to 10 mV."""
    number = data.draw(st.integers(0, len(CASES) - 1))
    airplane, _ = drilled(number)
    known = [each for each in hidden_faults_of(airplane) if not each.comes_and_goes]
    faults = data.draw(st.lists(st.sampled_from(known), max_size=4, unique=True))
    played = ready(setting_of(number, *faults))
    sick = ailing(airplane, *(fault for each in faults if (fault := each.fault) is not None))
    ties = frozenset(each.name for each in faults if each.kind is HiddenKind.TIE_STUCK)
    for position in data.draw(st.lists(st.sampled_from(airplane.selector.positions), min_size=1, max_size=3)):
        played.move(airplane.selector.name, position)
        played.play(data.draw(st.integers(1, 40)))
        asleep = {name for name, load in airplane.loads.items() if load.acts is not None and load.switch}
        situation = on_battery(airplane, position, failed=frozenset(asleep))
        situation = sick.with_faults(replace(situation, stuck_closed=ties))
        point = played._point
        gone, tripped = point.gone, point.out
        situation = replace(situation, failed=situation.failed | gone, pulled=situation.pulled | tripped)
        flow = Electric(sick.airplane, Phase.CHECK).solve(situation, played.states)
        for bus, volts in flow.volts.items():
            assert played.flow.volts[bus] == pytest.approx(volts, abs=0.010)


@given(st.data())
@settings(max_examples=6, deadline=None)
def test_minutes_are_those_of_the_rundown(data: st.DataObject) -> None:
    """Played to the end, second by second, what must be kept is lost at the minute that the rundown tells."""
    number = data.draw(st.integers(0, len(CASES) - 1))
    airplane, _ = drilled(number)
    wiring = [each for each in hidden_faults_of(airplane) if each.kind in BASIS and not each.comes_and_goes]
    fault = data.draw(st.sampled_from(wiring))
    battery = airplane.battery
    small = replace(battery, ampere_hours=battery.ampere_hours / 10)
    airplane = replace(airplane, sources={**airplane.sources, battery.name: small})
    setting = Setting(airplane, (fault,), ON)
    played = ready(setting)
    played.move(airplane.selector.name, airplane.selector.reserve)
    basis = fault.fault
    assert basis is not None
    sick = ailing(airplane, basis)
    asleep = frozenset(name for name, load in airplane.loads.items() if load.acts is not None and load.switch)
    each, states = batteries_of(setting, sick.airplane)
    leg = Leg(
        Phase.CHECK, sick.with_faults(on_battery(airplane, airplane.selector.reserve, failed=asleep)), 40
    )
    rundown = Runner(sick.airplane, each).run(states, [leg])
    needed = Runner(airplane, each).kept(played.flow.alive)
    while played.seconds < 40 * 60 and needed <= played.flow.alive and played.flow.carriers:
        played.play(1)
    assert played.seconds / 60 == pytest.approx(rundown.minutes, rel=0.02, abs=0.1)


def test_volts_sag_under_load_and_recover() -> None:
    """A battery under load shows less than at rest, and more again without (common practice, no source)."""
    airplane, _ = drilled(0)
    played = PlayedAirplane(setting_of(0))
    played.play(5)
    at_rest = played.flow.volts[airplane.battery.bus]
    played.move("feed selector", "reserve")
    played.play(60)
    loaded = played.flow.volts[airplane.battery.bus]
    played.move("feed selector", "off")
    recovered = played.flow.volts[airplane.battery.bus]
    assert loaded < recovered <= at_rest


def test_a_gyro_spins_up_within_its_advise_time_and_coasts() -> None:
    """The flag is in view at first, pulled by the advise time, in view without power, and sooner back."""
    played = PlayedAirplane(setting_of(0))
    played.move("feed selector", "reserve")
    assert not played.panel().flags[GYRO]
    first = seconds_to_flag(played)
    assert 5 < first <= 45
    played.move("feed selector", "off")
    played.play(10)
    assert not played.panel().flags[GYRO]
    played.move("feed selector", "reserve")
    assert seconds_to_flag(played) < first / 2


def seconds_to_flag(played: PlayedAirplane) -> float:
    """How long it takes from now."""
    since = played.seconds
    while not played.panel().flags[GYRO] and played.seconds < since + 300:
        played.play(1)
    return played.seconds - since


def on_reserve(*hidden: Hidden, seconds: float = 150.0) -> PlayedAirplane:
    """The Merlow on the reserve for a while."""
    played = PlayedAirplane(setting_of(0, *hidden))
    played.move("feed selector", "reserve")
    for switch in ("flood dimmer", "second radio switch", "first navigation switch"):
        played.move(switch, "on")
    played.play(seconds)
    return played


def test_flags_late_never_and_back_again() -> None:
    """A late flag pulls past its limit, a broken one never, and one comes back some time after pulling."""
    assert not on_reserve(Hidden(HiddenKind.FLAG_LATE, GYRO), seconds=95).panel().flags[GYRO]
    assert on_reserve(Hidden(HiddenKind.FLAG_LATE, GYRO), seconds=150).panel().flags[GYRO]
    assert not on_reserve(Hidden(HiddenKind.FLAG_NEVER, GYRO)).panel().flags[GYRO]
    back = on_reserve(Hidden(HiddenKind.FLAG_BACK, GYRO), seconds=0)
    assert seconds_to_flag(back) < 60
    back.play(30)
    assert not back.panel().flags[GYRO]


def test_a_gyro_tumbles_behind_a_pulled_flag() -> None:
    """Its flag says nothing of it; the horizon does."""
    panel = on_reserve(Hidden(HiddenKind.TUMBLES, GYRO)).panel()
    assert panel.flags[GYRO]
    assert "wanders" in panel.sights["left attitude"].words
    assert panel.sights["left attitude"].is_odd


def test_a_deaf_radio_lights_up() -> None:
    """Its display is lit, and nothing is heard through it."""
    panel = on_reserve(Hidden(HiddenKind.DEAF, "communication 2")).panel()
    assert panel.sights["communication 2"].words == "display lit"
    assert panel.sights["left microphone"].words == "nothing heard"


def test_one_lamp_out() -> None:
    """One bulb is dark beside the others."""
    panel = on_reserve(Hidden(HiddenKind.BULB_OUT, "gear lamps", "nose")).panel()
    assert panel.sights["gear lamps"].words == "left, right lit, nose dark"


def test_meters_low_and_stuck() -> None:
    """A low meter shows less than there is; a stuck one goes on showing the volts at rest."""
    healthy, low = on_reserve(), on_reserve(Hidden(HiddenKind.METER_LOW, "battery voltmeter"))
    assert low.panel().volts < healthy.panel().volts - Decimal("0.5")
    stuck = on_reserve(Hidden(HiddenKind.METER_STUCK, "battery voltmeter"))
    rest = PlayedAirplane(setting_of(0))
    assert stuck.panel().volts == rest.panel().volts


def test_what_comes_and_goes_does_so() -> None:
    """A bad contact shows for some seconds and hides for some."""
    bad = Hidden(HiddenKind.DEAD, "flood lamps", comes_and_goes=True)
    played = on_reserve(bad, seconds=0)
    seen = set()
    for _ in range(24):
        played.play(1)
        seen.add(played.panel().sights["flood lamps"].life)
    assert seen == {Life.ALIVE, Life.DEAD}


def test_a_tie_stuck_closed_keeps_a_shed_bus_hot() -> None:
    """With the selector on the reserve the main bus still lives."""
    healthy = on_reserve()
    tied = on_reserve(Hidden(HiddenKind.WELDED, "battery relay"))
    assert healthy.flow.volts["right main bus"] == 0
    assert tied.flow.volts["right main bus"] > 20


def test_generators_fail_and_overvolt_in_flight() -> None:
    """Without a fault the bus has a generator's volts; one that overvolts gives more, two that fail none."""

    def volts(*hidden: Hidden) -> float:
        airplane, _ = drilled(0)
        played = PlayedAirplane(Setting(airplane, hidden, ON, is_flying=True))
        played.play(5)
        return played.flow.volts["left main bus"]

    assert volts() == pytest.approx(28.5, abs=0.4)
    assert volts(Hidden(HiddenKind.OVERVOLTS, "left generator")) > 31
    lost = [Hidden(HiddenKind.GIVES_NOTHING, f"{side} generator") for side in ("left", "right")]
    assert volts(*lost) < 26.5


def test_a_selector_that_was_not_restored_stands_on_the_reserve() -> None:
    """Whoever comes finds it there, and the gyros running."""
    airplane, _ = drilled(0)
    played = PlayedAirplane(setting_of(0, Hidden(HiddenKind.NOT_RESTORED, airplane.selector.name)))
    assert played.panel().stands["feed selector"] == "reserve"
    played.play(60)
    assert played.panel().flags[GYRO]


def test_a_wrong_switch_has_its_consequence() -> None:
    """The landing light on the flight position draws sixteen amperes from the battery, and costs charge."""
    played = PlayedAirplane(setting_of(0))
    played.move("feed selector", "flight")
    played.play(1)
    before = played.flow.source_amps["main battery"]
    played.move("landing light switch", "on")
    played.play(1)
    assert played.flow.source_amps["main battery"] == pytest.approx(before + 16, abs=0.5)
    assert played.panel().sights["landing light"].words == "warm"


def test_every_fault_changes_something_or_is_for_the_air() -> None:
    """Of each kind there is one on some shipped airplane that can be seen on the ground, or with engines."""
    shown: set[HiddenKind] = set()
    for number in range(len(CASES)):
        airplane, _ = drilled(number)
        for kind in set(HiddenKind) - shown:
            for fault in (each for each in hidden_faults_of(airplane) if each.kind is kind):
                if any(differs(number, fault, is_flying=flying) for flying in (False, True)):
                    shown.add(kind)
                    break
    assert set(HiddenKind) - shown == set()


def differs(number: int, fault: Hidden, *, is_flying: bool) -> bool:
    """Whether the fault shows somewhere on the panel in some position of the selector."""
    airplane, _ = drilled(number)
    sick, well = (ready(replace(setting_of(number, *each), is_flying=is_flying)) for each in ((fault,), ()))
    if sick.panel().differences(well.panel()):
        return True
    for position in airplane.selector.positions:
        for played in (sick, well):
            played.move(airplane.selector.name, position)
            played.leap(180)
        if sick.panel().differences(well.panel()):
            return True
    return False


def test_switches_and_positions_that_there_are_not_get_one_line() -> None:
    """A hand that reaches for nothing is told what there is."""
    played = PlayedAirplane(setting_of(0))
    with pytest.raises(UsageError, match='no "up" on "feed selector"; it has off, ground, flight, reserve'):
        played.move("feed selector", "up")
    with pytest.raises(UsageError, match='on "seat heater"; it has nothing'):
        played.move("seat heater", "on")


def test_faults_have_different_words() -> None:
    """No two faults of an airplane are told by the same words."""
    for number in range(len(CASES)):
        words = [str(each) for each in hidden_faults_of(drilled(number)[0])]
        assert len(words) == len(set(words))


def test_the_same_setting_plays_the_same() -> None:
    """Nothing but the setting and the hands decides what is seen."""
    faults = (Hidden(HiddenKind.WEAK_CELL, "main battery"), Hidden(HiddenKind.DEAD, "left audio"))
    assert on_reserve(*faults).panel() == on_reserve(*faults).panel()
    names = dict(switches_of(setting_of(0)))
    assert names["feed selector"] == ("off", "ground", "flight", "reserve")
