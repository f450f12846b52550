"""The shipped checks: what each of them must have, and the published figures that their bands keep to."""

from decimal import Decimal
from pathlib import Path

import pytest

from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Check, Item
from runner.checklist.format.check_load import load_check
from runner.checklist.kind.action import Action
from runner.checklist.kind.call import Call
from runner.checklist.kind.choice import Choice
from runner.checklist.kind.dead import Dead
from runner.checklist.kind.named_state import NamedState
from runner.checklist.kind.partial import Partial
from runner.checklist.kind.reading import Reading
from runner.checklist.kind.spin_up import SpinUp
from runner.checklist.lint.check_lint import lint
from runner.checklist.lint.clash import clashes
from runner.checklist.lint.consistency import contradictions
from runner.language.catalogue import Outcome, Unit
from runner.language.likeness import pronounced
from runner.voice.ear.dictionary import dictionary_words
from tests.checklist.shipped import CHECKS, FOLDER, RESERVE_CHECKS

DICTIONARY = dictionary_words()


@pytest.fixture(params=RESERVE_CHECKS, ids=lambda path: path.stem)
def check(request: pytest.FixtureRequest) -> Check:
    """Each shipped check."""
    assert isinstance(request.param, Path)
    return load_check(request.param)


@pytest.fixture(params=RESERVE_CHECKS[::2], ids=lambda path: path.stem)
def full(request: pytest.FixtureRequest) -> Check:
    """The two that show an author every kind of item, on 28 V airplanes."""
    assert isinstance(request.param, Path)
    return load_check(request.param)


@pytest.fixture
def airplane(check: Check) -> Airplane:
    """The airplane that it is for."""
    return load_airplane(FOLDER / "airplanes" / f"{check.airplane}.yaml")


def volt_readings(check: Check) -> list[tuple[Item, Reading]]:
    """Every reading of volts."""
    return [
        (item, item.body)
        for item in check.items
        if isinstance(item.body, Reading) and item.body.unit is Unit.VOLTS
    ]


def test_three_checks_are_shipped() -> None:
    """One for each invented airplane, and one that is for any."""
    names = ["merlow-reserve", "pellow-reserve", "tarn-reserve"]
    assert [path.stem for path in RESERVE_CHECKS] == names
    assert [path.stem for path in CHECKS] == [*names, "walk-round"]


def test_each_kind_of_item_is_used(full: Check) -> None:
    """All eight, so that the shipped checks show an author how each is written."""
    assert {type(item.body) for item in full.items} == {
        *(Action, NamedState, Reading, SpinUp, Dead, Partial, Choice, Call),
    }


def test_two_gyros_run_up_at_once(full: Check) -> None:
    """Both clocks start on the same item."""
    clocks = [clock for _, clock in full.clocks()]
    assert len(clocks) == 2
    assert len({clock.starts_on for clock in clocks}) == 1


def test_lamps_are_answered_one_by_one(check: Check, airplane: Airplane) -> None:
    """Where a load has several bulbs, each of them out is an answer of its own."""
    sets = [lamps for lamps in airplane.lamps.values() if len(lamps.bulbs) > 1]
    assert sets
    for lamps in sets:
        asked = [
            item for item in check.items if lamps.load in item.proves and isinstance(item.body, NamedState)
        ]
        assert len(asked) == 1
        squawks = [response.label for response in asked[0].responses if response.outcome is Outcome.SQUAWK]
        for bulb in lamps.bulbs:
            assert any(bulb in label for label in squawks), (bulb, squawks)


def test_a_radio_fit_unlike_the_type_s_is_asked_for(full: Check) -> None:
    """The airplane says that it differs; a choice branches on it to an item that proves that radio."""
    fitted = load_airplane(FOLDER / "airplanes" / f"{full.airplane}.yaml")
    differing = {radio.load for radio in fitted.radios.values() if radio.differs}
    assert differing
    for load in differing:
        asked = [item for item in full.items if load in item.proves and item.when is not None]
        assert len(asked) >= 2
        assert {type(full.item(item.when.item).body) for item in asked if item.when} == {Choice}


def test_the_selector_is_restored_by_a_critical_item(check: Check, airplane: Airplane) -> None:
    """To where the airplane is parked."""
    (restoring,) = (item for item in check.items if item.restores)
    assert restoring.critical
    assert isinstance(restoring.body, Action)
    assert restoring.body.selects == airplane.selector.parked


@pytest.mark.parametrize("path", CHECKS, ids=lambda path: path.stem)
def test_lint_finds_nothing(path: Path) -> None:
    """Published rules of checklist design; by the CMU dictionary nothing sounds alike or is unknown."""
    check = load_check(path)
    pronunciations = pronounced(DICTIONARY, check.pronounce)
    findings = lint(check, lambda each: clashes(each, pronunciations), DICTIONARY.__contains__)
    assert [str(finding) for finding in findings] == []


def test_the_airplane_agrees(check: Check, airplane: Airplane) -> None:
    """Nothing that it calls alive is dead, and nothing of the reserve is left unproved."""
    assert [str(finding) for finding in contradictions(check, airplane)] == []


def test_dangers_are_spoken_of_before_the_start(check: Check) -> None:
    """Common practice, no source."""
    spoken = " ".join(check.cautions).lower()
    for words in (
        "on the ground only",
        "flight manual",
        "pilot in command",
        "drains the battery",
    ):
        assert words in spoken
    heats = any("heat" in item.challenge.lower() for item in check.items)
    assert not heats or "back of the hand" in spoken
    assert "ground power unplugged" in spoken
    assert "inlets" in spoken or "propeller area" in spoken


def test_volts_stay_within_the_limits_of_a_28_volt_system(full: Check) -> None:
    """MIL-STD-704F table IV: steady state 22.0 to 29.0 V (as tabulated by a second source).

    Outside them a reading on a loaded bus is a squawk, whatever else the check says.
    """
    readings = volt_readings(full)
    assert len(readings) >= 3
    for _, reading in readings:
        for volts in ("21.9", "29.1"):
            assert reading.outcome(Decimal(volts)) is Outcome.SQUAWK
        assert Decimal("22.0") in reading.plausible
        assert Decimal("29.0") in reading.plausible


def test_a_battery_alone_is_not_held_to_the_low_voltage_light(full: Check) -> None:
    """AC 43.13-1B para 11-35 b: the light of a 28 V system comes on below 26 V, with a generator turning.

    A 24 V battery on its own is always below that, so no reading of a healthy one may fail for it.
    """
    for _, reading in volt_readings(full):
        assert reading.outcome(Decimal("25.4")) is Outcome.PASS
        assert reading.pass_band.low < 26


def test_a_full_rested_lead_acid_battery_passes() -> None:
    """BCI table (as cited by a second source), 24 V at rest: 25.30 V is full, 24.12 V a quarter."""
    check = load_check(FOLDER / "tarn-reserve.yaml")
    rest = check.item("battery at rest").body
    assert isinstance(rest, Reading)
    assert rest.outcome(Decimal("25.3")) is Outcome.PASS
    assert rest.outcome(Decimal("24.1")) is Outcome.SQUAWK


def test_the_walk_round_is_a_check_of_no_airplane() -> None:
    """It stops for people near and for fire or fuel (common practice, no source), and says it is invented."""
    check = load_check(FOLDER / "walk-round.yaml")
    assert (check.airplane, check.airplane_place) == ("", None)
    stops = {item.name for item in check.items if item.remedy}
    assert {"people", "smell"} <= stops
    assert any("invented" in caution for caution in check.cautions)


def test_what_the_walk_round_moves_comes_back() -> None:
    """Cover, lock and sampler: each is moved by an item and returned by a later one."""
    items = load_check(FOLDER / "walk-round.yaml").items
    moved = {name for item in items for name in item.moves}
    assert moved == {"pitot cover", "control lock", "fuel sampler"}
    assert {name for item in items for name in item.returns} == moved
