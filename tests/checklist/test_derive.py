from pathlib import Path

import pytest

from runner.airplane.model import Airplane
from runner.checklist.consistency import contradictions
from runner.checklist.coverage import coverage
from runner.checklist.derive import derive
from runner.checklist.finding import Grade
from runner.checklist.lint import lint
from runner.checklist.load import parse_check
from runner.checklist.model import Call, Check, Dead, Partial, Reading, SpinUp, State
from runner.language.clash import clashes
from runner.voice.dictionary import dictionary_words
from tests.checklist.shipped import shipped_airplane
from tests.checklist.twisted import TWISTS, twisted_airplane

PATH = Path("derived.yaml")
DICTIONARY = dictionary_words()
AIRPLANES = ("merlow-ml2", "tarn-t1")
UNRUN = "nothing to run on the AC bus"


def derived(airplane: Airplane) -> Check:
    """The derived check, read back."""
    return parse_check(derive(airplane), PATH)


@pytest.fixture(params=[name for name in TWISTS if name != UNRUN])
def airplane(request: pytest.FixtureRequest) -> Airplane:
    """The shipped airplanes, and some with a twist."""
    return twisted_airplane(str(request.param))


def test_it_loads_lints_clean_and_agrees_with_its_airplane(airplane: Airplane) -> None:
    """What is derived could be run as it is."""
    check = derived(airplane)
    findings = [*lint(check, lambda each: clashes(each, DICTIONARY)), *contradictions(check, airplane)]
    assert [str(finding) for finding in findings] == []


def test_it_covers_the_whole_reserve(airplane: Airplane) -> None:
    """Every load is proved, and every shed bus has a witness."""
    assert coverage(derived(airplane), airplane).share == 1.0


@pytest.mark.parametrize("stem", AIRPLANES)
def test_it_has_volts_before_under_load_and_after(stem: str) -> None:
    """Three readings, with the bands of the airplane file; the last may be as low as its caution band."""
    airplane = shipped_airplane(stem)
    bodies = [item.body for item in derived(airplane).items if isinstance(item.body, Reading)]
    low, high = airplane.voltmeter.at_rest.passing
    assert (bodies[0].pass_band.low, bodies[0].pass_band.high) == (low, high)
    low, high = airplane.voltmeter.on_reserve.passing
    assert (bodies[1].pass_band.low, bodies[1].pass_band.high) == (low, high)
    assert bodies[2].pass_band.low == airplane.voltmeter.at_rest.caution[0]


@pytest.mark.parametrize("stem", AIRPLANES)
def test_every_woken_gyro_has_a_clock_with_its_own_times(stem: str) -> None:
    """Advise and limit come from the airplane file."""
    airplane = shipped_airplane(stem)
    times = {
        clock.gyro: (clock.advise_seconds, clock.limit_seconds) for _, clock in derived(airplane).clocks()
    }
    assert times == {gyro.name: (gyro.advise_seconds, gyro.limit_seconds) for gyro in airplane.gyros.values()}


def test_the_witness_of_a_bus_is_what_would_cost_the_battery_most() -> None:
    """Of the Merlow's left main bus: 7 A of pitot heat; windshield heat and motors may not run in a check."""
    check = derived(shipped_airplane("merlow-ml2"))
    loads = [load for item in check.items if isinstance(item.body, Dead) for load in item.body.loads]
    assert sorted(loads) == ["left pitot heat", "right attitude gyro", "right pitot heat", "weather radar"]
    assert loads.index("left pitot heat") < loads.index("right pitot heat")


def test_a_bus_whose_loads_may_not_run_is_left_to_the_author() -> None:
    """No load is switched on against the airplane file; a warning says which bus has no witness."""
    airplane = twisted_airplane(UNRUN)
    check = derived(airplane)
    (finding,) = contradictions(check, airplane)
    assert finding.grade is Grade.WARNING
    assert "no item sees that the AC bus is shed" in finding.message


def test_what_was_switched_on_is_switched_off_again() -> None:
    """By a critical item, before the selector comes back."""
    check = derived(shipped_airplane("merlow-ml2"))
    names = [item.name for item in check.items]
    assert check.item("switches off").critical
    assert names.index("right pitot heat") < names.index("switches off") < names.index("selector restored")


def test_living_items_follow_the_panel_critical_ones_first() -> None:
    """What must be kept is critical; within each group the order is the panel's."""
    airplane = shipped_airplane("tarn-t1")
    section = next(each for each in derived(airplane).sections if each.title == "Must live")
    assert [item.critical for item in section.items] == sorted(
        (item.critical for item in section.items), reverse=True
    )
    ranks = [(not item.critical, airplane.panel_rank(item.name)) for item in section.items]
    assert ranks == sorted(ranks)


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
    assert isinstance(check.item("flood lamps").body, State)
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
    assert [item.name for item in check.items if isinstance(item.body, Reading)] == ["volts under load"]


def test_the_text_says_where_it_comes_from_and_reads_like_a_person_s() -> None:
    """A comment on top, keys in one order, lists indented, a line between items."""
    text = derive(shipped_airplane("merlow-ml2"))
    assert text.startswith("# Derived from airplanes/merlow-ml2.yaml. Read it against the flight manual")
    assert "\n\nsections:\n  - section: Before reserve\n    items:\n      - item: ground power plug\n" in text
    assert "\n        selects: 'off'\n" in text
    assert isinstance(parse_check(text, PATH).items[-1].body, Call)
