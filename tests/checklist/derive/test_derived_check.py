from pathlib import Path

import pytest

from runner.airplane.life.lively import picture
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import on_battery
from runner.airplane.model.wiring import Phase
from runner.checklist.derive.before_reserve import reads_parked
from runner.checklist.derive.derived_check import derive
from runner.checklist.format.check import Check
from runner.checklist.format.check_load import parse_check
from runner.checklist.kind.action import Action
from runner.checklist.kind.call import Call
from runner.checklist.kind.dead import Dead
from runner.checklist.kind.named_state import NamedState
from runner.checklist.kind.partial import Partial
from runner.checklist.kind.reading import Reading
from runner.checklist.kind.spin_up import SpinUp
from runner.checklist.lint.check_lint import lint
from runner.checklist.lint.clash import clashes
from runner.checklist.lint.consistency import contradictions
from runner.checklist.lint.coverage import coverage, duty_of
from runner.checklist.lint.finding import Grade
from runner.checklist.lint.wording_rule import judge_vocabulary
from runner.language.catalogue import Unit
from runner.language.digit import RADIO_PRONUNCIATIONS
from runner.language.likeness import pronounced
from runner.voice.ear.dictionary import dictionary_words
from tests.checklist.shipped import shipped_airplane
from tests.checklist.twisted import TWISTS, twisted_airplane

PATH = Path("derived.yaml")
DICTIONARY = dictionary_words()
AIRPLANES = ("merlow-ml2", "tarn-qx83", "pellow-jv62")
UNWITNESSED = frozenset(("nothing to run on the AC bus", "all of the AC bus moves"))


def derived(airplane: Airplane) -> Check:
    """The derived check, read back."""
    return parse_check(derive(airplane), PATH)


def volts_of(check: Check) -> list[Reading]:
    """Its readings of volts."""
    readings = (item.body for item in check.items if isinstance(item.body, Reading))
    return [reading for reading in readings if reading.unit is Unit.VOLTS]


@pytest.fixture(params=[name for name in TWISTS if name not in UNWITNESSED])
def airplane(request: pytest.FixtureRequest) -> Airplane:
    """The shipped airplanes, and some with a twist."""
    return twisted_airplane(str(request.param))


def test_it_loads_lints_clean_and_agrees_with_its_airplane(airplane: Airplane) -> None:
    """What is derived could be run as it is."""
    check = derived(airplane)
    findings = [*lint(check, lambda each: clashes(each, DICTIONARY)), *contradictions(check, airplane)]
    assert [str(finding) for finding in findings] == []


def test_its_own_words_have_sounds() -> None:
    """What it answers with is in a dictionary, or it says how to pronounce it; names are the author's."""
    for stem in AIRPLANES:
        check = derived(shipped_airplane(stem))
        sounds = pronounced(DICTIONARY, RADIO_PRONUNCIATIONS, check.pronounce)
        assert list(judge_vocabulary(check, sounds.__contains__)) == []


def test_it_covers_the_whole_reserve(airplane: Airplane) -> None:
    """Every load is proved, and every shed bus has a witness."""
    assert coverage(derived(airplane), airplane).share == 1.0


@pytest.mark.parametrize("stem", AIRPLANES)
def test_it_has_volts_before_under_load_and_after(stem: str) -> None:
    """Three readings, with the bands of the airplane file; what is left after is what will fly."""
    airplane = shipped_airplane(stem)
    bodies = volts_of(derived(airplane))
    low, high = airplane.voltmeter.at_rest.passing
    assert (bodies[0].pass_band.low, bodies[0].pass_band.high) == (low, high)
    low, high = airplane.voltmeter.on_reserve.passing
    assert (bodies[1].pass_band.low, bodies[1].pass_band.high) == (low, high)
    assert bodies[2].pass_band == bodies[0].pass_band


@pytest.mark.parametrize("stem", AIRPLANES)
def test_every_woken_gyro_has_a_clock_with_its_own_times(stem: str) -> None:
    """Advise and limit come from the airplane file."""
    airplane = shipped_airplane(stem)
    times = {
        clock.gyro: (clock.advise_seconds, clock.limit_seconds) for _, clock in derived(airplane).clocks()
    }
    assert times == {gyro.name: (gyro.advise_seconds, gyro.limit_seconds) for gyro in airplane.gyros.values()}


def test_the_witness_of_a_bus_is_what_would_cost_the_battery_most() -> None:
    """Of the Merlow's left main bus: 6 A of outlets. Pitot heat takes more, but would burn somebody.

    It has an item of its own; whatever else may be looked at comes after, several in one.
    """
    check = derived(shipped_airplane("merlow-ml2"))
    loads = [
        item.name for item in check.items if isinstance(item.body, Dead) and item.name in item.body.loads
    ]
    assert sorted(loads) == ["cabin lights", "cabin outlets", "communication 1", "right attitude gyro"]


def test_no_witness_radiates_heats_moves_or_pumps(airplane: Airplane) -> None:
    """It is switched on in the hope that it is dead; if it lives, it must hurt nobody (common practice)."""
    loads = [
        load for item in derived(airplane).items if isinstance(item.body, Dead) for load in item.body.loads
    ]
    assert loads
    assert [load for load in loads if airplane.loads[load].acts is not None] == []


def test_who_has_to_feel_a_heater_is_told_how() -> None:
    """A witness that heats by its name, though not by its file; back of the hand: common practice."""
    caution = "A heater burns. Feel it with the back of the hand, and never grip it."
    assert derived(twisted_airplane("a heater that the file does not mark")).cautions[-1] == caution
    assert [name for name in AIRPLANES if caution in derived(shipped_airplane(name)).cautions] == []


def test_a_bus_of_loads_that_act_is_left_to_the_author() -> None:
    """Better no witness than one that moves something."""
    airplane = twisted_airplane("all of the AC bus moves")
    assert any("AC bus is shed" in each.message for each in contradictions(derived(airplane), airplane))


def test_each_witness_has_its_own_switch_on(airplane: Airplane) -> None:
    """Or is said to have none."""
    for item in derived(airplane).items:
        if isinstance(item.body, Dead):
            switches = dict.fromkeys(airplane.loads[load].switch for load in item.body.loads)
            assert item.body.switches == item.moves == tuple(each for each in switches if each)


def test_every_shed_load_that_may_be_looked_at_is_seen_dead(airplane: Airplane) -> None:
    """A load wired past its bus shows itself and no other, so that a witness for each bus is not enough."""
    seen = {
        load for item in derived(airplane).items if isinstance(item.body, Dead) for load in item.body.loads
    }
    alive = picture(airplane, on_battery(airplane, airplane.selector.reserve)).solution.alive
    shed = set(duty_of(airplane).buses)
    for load in airplane.loads.values():
        may = load.duty[Phase.CHECK] > 0 and load.acts is None and load.name not in alive
        assert not (may and load.feeds[0].bus in shed) or load.name in seen


def test_danger_stops_it(airplane: Airplane) -> None:
    """People, ground power, the handle of a gear that folds, a hot nickel-cadmium battery, and low volts."""
    stopping = {item.name for item in derived(airplane).items if item.remedy}
    expected = {"people", "ground power plug", "volts at rest", "volts under load"}
    if airplane.name == "merlow-ml2":
        expected |= {"gear handle", "battery temperature"}
    assert stopping == expected - (set() if reads_parked(airplane) else {"volts at rest"})


@pytest.mark.parametrize("stem", AIRPLANES)
def test_the_volts_floor_is_where_the_rated_discharge_ends(stem: str) -> None:
    """20.0 V for a 24 V battery (the airplane files' `end_volts`); after the check there is none."""
    airplane = shipped_airplane(stem)
    end = airplane.battery.end_volts
    assert end == {12: 20, 20: 20, 6: 10}[airplane.battery.cells]
    assert [reading.stop_below for reading in volts_of(derived(airplane))] == [end, end, None]


def test_a_bus_whose_loads_may_not_run_is_left_to_the_author() -> None:
    """No load is switched on against the airplane file; a warning says which bus has no witness."""
    airplane = twisted_airplane("nothing to run on the AC bus")
    check = derived(airplane)
    (finding,) = contradictions(check, airplane)
    assert finding.grade is Grade.WARNING
    assert "no item sees that the AC bus is shed" in finding.message


def test_what_was_moved_comes_back_before_the_selector_last_moved_first(airplane: Airplane) -> None:
    """By critical items, two switches in one breath at most."""
    items = derived(airplane).items
    moved = [switch for item in items for switch in item.moves]
    assert [switch for item in items for switch in item.returns] == moved[::-1]
    assert all(item.critical and len(item.returns) <= 2 for item in items if item.returns)
    last = max((index for index, item in enumerate(items) if item.returns), default=0)
    assert last < next(index for index, item in enumerate(items) if item.restores)


def test_what_must_live_has_its_switch_on() -> None:
    """A radio that is off proves nothing either; the dimmer goes full up."""
    check = derived(shipped_airplane("merlow-ml2"))
    assert check.item("left microphone").moves == ("second radio switch",)
    assert check.item("left microphone").challenge == "Second radio switch on, left microphone"
    assert check.item("flood lamps").challenge == "Flood dimmer full up, flood lamps"


def test_living_items_follow_the_panel_critical_ones_first() -> None:
    """What must be kept is critical; within each group the order is the panel's."""
    airplane = shipped_airplane("tarn-qx83")
    section = next(each for each in derived(airplane).sections if each.title == "Must live")
    assert [item.critical for item in section.items] == sorted(
        (item.critical for item in section.items), reverse=True
    )
    ranks = [(not item.critical, airplane.panel_rank(item.name)) for item in section.items]
    assert ranks == sorted(ranks)


def test_volts_are_read_when_gyros_and_lamps_are_on_and_no_other_switch_was_moved(
    airplane: Airplane,
) -> None:
    """After the surge of what starts; a stop there finds little to ask back."""
    items = derived(airplane).items
    names = [item.name for item in items]
    place = names.index("volts under load")
    lamps = {lamp.load for lamp in airplane.lamps.values()}
    asked = [n for n, item in enumerate(items) if lamps & set(item.proves)]
    assert asked
    assert max(asked) < place
    gyros = [n for n, item in enumerate(items) if isinstance(item.body, SpinUp)]
    assert all(number < place for number in gyros)
    selected = next(n for n, item in enumerate(items) if isinstance(item.body, Action) and item.body.selects)
    between = items[selected:place]
    assert all(lamps & set(item.proves) for item in between if item.moves)


def test_a_stuck_voltmeter_is_asked_for_where_a_healthy_one_moves() -> None:
    """Against the rested volts; a meter in half volts need not move at all, and nobody is asked then."""
    assert derived(shipped_airplane("merlow-ml2")).item("voltmeter moved").proves == ("battery voltmeter",)
    coarse = derived(twisted_airplane("bands between steps"))
    assert "voltmeter moved" not in [item.name for item in coarse.items]


def test_half_living_instruments_are_asked_part_by_part() -> None:
    """The Merlow's left direction indicator keeps card and needle and loses its digits."""
    item = derived(shipped_airplane("merlow-ml2")).item("left direction indicator")
    assert isinstance(item.body, Partial)
    assert item.body.dead == ("left direction indicator digits",)
    assert [response.label for response in item.responses] == [
        *("card and needle only", "card dead", "needle dead", "digits came alive"),
    ]


def test_lamps_are_asked_bulb_by_bulb() -> None:
    """A pair is both, more are all."""
    check = derived(shipped_airplane("merlow-ml2"))
    assert isinstance(check.item("flood lamps").body, NamedState)
    labels = {
        name: [each.label for each in check.item(name).responses] for name in ("flood lamps", "gear lamps")
    }
    assert labels["flood lamps"] == ["both lit", "left out", "right out", "no light at all"]
    assert labels["gear lamps"] == ["all lit", "left out", "nose out", "right out", "no light at all"]


def test_what_only_carries_power_on_is_proved_by_what_it_feeds() -> None:
    """Nobody can look at an inverter's own losses; the gyro behind it shows that it works."""
    check = derived(shipped_airplane("merlow-ml2"))
    assert check.item("left compass gyro flag").proves == ("reserve inverter losses",)
    assert isinstance(check.item("left compass gyro flag").body, SpinUp)


def test_long_sections_are_divided() -> None:
    """Ten items or fewer each, the second called so."""
    titles = [section.title for section in derived(twisted_airplane("many loads")).sections]
    assert titles.count("Must live") == 1
    assert "Must live, part 2" in titles


def test_a_meter_that_sleeps_is_not_read() -> None:
    """A voltmeter on the reserve bus shows nothing before and after."""
    check = derived(twisted_airplane("no voltmeter at rest"))
    assert volts_of(check) == [check.item("volts under load").body]


def test_the_text_says_where_it_comes_from_and_reads_like_a_person_s() -> None:
    """A comment on top, keys in one order, lists indented, a line between items."""
    text = derive(shipped_airplane("merlow-ml2"))
    assert text.startswith("# Derived from merlow-ml2.yaml. Read it against the flight manual")
    assert "\n\nsections:\n  - section: Before reserve\n    items:\n      - item: people\n" in text
    assert "\n        selects: 'off'\n" in text
    assert isinstance(parse_check(text, PATH).items[-1].body, Call)
