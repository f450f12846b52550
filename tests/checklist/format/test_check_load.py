from decimal import Decimal
from pathlib import Path

import pytest
import yaml

from runner.checklist.format.check import Condition, Item
from runner.checklist.format.check_load import load_check, parse_check
from runner.checklist.kind.action import Action
from runner.checklist.kind.call import Call
from runner.checklist.kind.choice import Choice
from runner.checklist.kind.dead import Dead
from runner.checklist.kind.named_state import NamedState
from runner.checklist.kind.numbered import Band
from runner.checklist.kind.partial import Partial
from runner.checklist.kind.reading import Reading
from runner.checklist.kind.spin_up import SpinUp
from runner.errors import FileError
from runner.language.catalogue import Outcome, Unit

FOLDER = Path(__file__).parents[1]
GOOD = (FOLDER / "good.yaml").read_text(encoding="utf-8")
MISTAKES: dict[str, dict[str, str]] = yaml.load(
    (FOLDER / "mistakes.yaml").read_text(encoding="utf-8"),
    yaml.BaseLoader,  # noqa: S506 - makes strings, lists and mappings only
)
PATH = Path("x.yaml")


def item(name: str, old: str = "", new: str = "") -> Item:
    """An item of the good check, after one edit."""
    assert not old or GOOD.count(old) == 1
    return parse_check(GOOD.replace(old, new) if old else GOOD, PATH).item(name)


@pytest.mark.parametrize("mistake", MISTAKES.values(), ids=MISTAKES.keys())
def test_each_mistake_is_placed_and_its_cure_named(mistake: dict[str, str]) -> None:
    """One edit spoils the good file; the error points at the mark and says what to write instead."""
    assert GOOD.count(mistake["old"]) == 1
    spoiled = GOOD.replace(mistake["old"], mistake["new"])
    before = spoiled[: spoiled.index("§")].split("\n")
    with pytest.raises(FileError) as caught:
        parse_check(spoiled.replace("§", ""), PATH)
    assert (caught.value.place.line, caught.value.place.column) == (len(before), len(before[-1]) + 1)
    assert mistake["says"] in caught.value.message
    assert mistake["cure"] in caught.value.message.partition(mistake["says"])[2]
    assert caught.value.exit_code == 2


def test_seventy_kinds_of_mistake_are_known() -> None:
    """The list of mistakes is not shortened unnoticed."""
    assert len(MISTAKES) >= 70


def test_a_file_is_named_by_its_stem() -> None:
    """The check's name is what is typed to run it."""
    check = load_check(FOLDER / "good.yaml")
    assert (check.name, check.title, check.airplane) == ("good", "A short check", "merlow-ml2")
    assert check.cautions == ("Use it on the ground only.",)
    assert [section.title for section in check.sections] == ["Bus", "Restore"]


def test_every_kind_of_item_has_its_body() -> None:
    """The eight kinds, in the order of the file."""
    kinds = [type(item.body) for item in parse_check(GOOD, PATH).items]
    assert kinds == [Choice, Action, SpinUp, Reading, NamedState, Dead, Partial, Action, Action, Call]


def test_an_item_knows_its_place() -> None:
    """Lint and reports can point at it."""
    assert str(item("volts").place) == "x.yaml:19:9"


def test_a_challenge_is_the_item_s_name_unless_written() -> None:
    """Short checks need not say everything twice."""
    assert item("volts").challenge == "volts"
    longer = item("volts", "- item: volts\n", "- item: volts\n        challenge: Bus volts\n")
    assert longer.challenge == "Bus volts"


def test_an_answer_is_said_as_it_is_named_unless_written() -> None:
    """A label in capitals or with hyphens is brought to the words that are said."""
    answers = item("lamps", "left out: squawk", "Left-hand lamp out!: squawk").responses
    assert answers[1].label == "Left-hand lamp out!"
    assert answers[1].phrases == ("left hand lamp out",)


def test_an_answer_may_have_words_a_meaning_and_a_key_of_its_own() -> None:
    """The long form of an answer."""
    answers = item(
        "lamps", "left out: squawk", "left out: {say: [left dark, it is out], means: caution, key: x}"
    )
    answer = answers.responses[1]
    assert (answer.phrases, answer.outcome, answer.key) == (("left dark", "it is out"), Outcome.CAUTION, "x")


def test_several_answers_in_a_list_all_pass() -> None:
    """A list is short for answers that all pass."""
    assert [answer.label for answer in item("fit").responses] == ["new set", "old set"]
    assert {answer.outcome for answer in item("fit").responses} == {Outcome.PASS}


def test_a_reading_has_its_bands() -> None:
    """Numbers stay exact."""
    assert item("volts").body == Reading(
        Unit.VOLTS,
        Decimal("0.1"),
        Band(Decimal("24.0"), Decimal("26.0")),
        Band(Decimal("22.0"), Decimal("29.0")),
        Band(Decimal("16.0"), Decimal("32.0")),
    )


def test_what_a_gauge_may_show_need_not_be_written() -> None:
    """Each unit has a usual range, stretched where the bands reach further."""
    usual = item("volts", "          plausible: 16.0 to 32.0\n", "").body
    assert isinstance(usual, Reading)
    assert usual.plausible == Band(Decimal(10), Decimal(32))
    high = item("volts", "22.0 to 29.0\n          plausible: 16.0 to 32.0\n", "22.0 to 40.0\n").body
    assert isinstance(high, Reading)
    assert high.plausible == Band(Decimal(10), Decimal("40.0"))


def test_a_reading_below_zero_can_be_written() -> None:
    """Degrees may be negative."""
    body = item(
        "volts",
        "unit: volts\n          resolution: 0.1\n          pass: 24.0 to 26.0\n"
        "          caution: 22.0 to 29.0\n          plausible: 16.0 to 32.0\n",
        "unit: degrees\n          resolution: 1\n          pass: -20 to 40\n          plausible: -55 to 85\n",
    ).body
    assert isinstance(body, Reading)
    assert (body.pass_band.low, body.caution_band) == (Decimal(-20), None)


def test_a_clock_has_its_times_and_phrases() -> None:
    """Seconds whatever the unit in the file; the gyro's name makes the phrases that are not written."""
    clock = item("gyro").body
    assert isinstance(clock, SpinUp)
    assert (clock.gyro, clock.starts_on) == ("left gyro", "on")
    assert (clock.advise_seconds, clock.limit_seconds) == (60.0, 120.0)
    assert clock.pulled.phrases == ("left gyro flag pulled",)
    assert clock.stuck.phrases == ("left gyro flag stuck",)
    assert clock.stuck.outcome is Outcome.SQUAWK


def test_times_may_have_minutes_and_seconds() -> None:
    """`1 min 30 s` is ninety seconds."""
    clock = item("gyro", "2 min", "1 min 30 s").body
    assert isinstance(clock, SpinUp)
    assert clock.limit_seconds == 90.0


def test_a_dead_load_has_answers_unless_written() -> None:
    """No life passes, life is a squawk."""
    answers = item("heat").responses
    assert [(answer.label, answer.outcome) for answer in answers] == [
        ("stays dead", Outcome.PASS),
        ("came alive", Outcome.SQUAWK),
    ]


def test_dead_and_partial_items_prove_what_they_name() -> None:
    """Their loads need not be written again."""
    assert item("heat").proves == ("pitot heat",)
    assert item("fan").proves == ("fan needle", "fan digits")
    assert item("lamps").proves == ()


def test_other_items_prove_what_they_say() -> None:
    """One name or a list."""
    assert item("lamps", "- item: lamps\n", "- item: lamps\n        proves: floods\n").proves == ("floods",)


def test_restoring_is_critical() -> None:
    """What puts the selector back can be neither skipped nor put off."""
    assert item("back").restores
    assert item("back").critical
    assert not item("on").critical
    assert item("on").body == Action(item("on").responses, "reserve")


def test_what_is_read_off_an_instrument_needs_a_look() -> None:
    """States, readings, dead and partial items are looks unless the file says otherwise."""
    looks = {item.name for item in parse_check(GOOD, PATH).items if item.looks}
    assert looks == {"volts", "lamps", "heat", "fan"}
    assert not item("lamps", "- item: lamps\n", "- item: lamps\n        looks: false\n").looks


def test_an_item_may_depend_on_an_answer() -> None:
    """One answer or a list of them."""
    edited = item("heat", "- item: heat\n", "- item: heat\n        when: {item: fit, answer: new set}\n")
    assert edited.when == Condition("fit", ("new set",))


def test_a_clock_may_depend_on_what_its_starter_depends_on() -> None:
    """A clock is asked for exactly when it can have been started."""
    when = "\n        when: {item: fit, answer: new set}\n"
    edited = GOOD.replace('item: "on"\n', f'item: "on"{when}').replace("item: gyro\n", f"item: gyro{when}")
    assert parse_check(edited, PATH).item("gyro").when == Condition("fit", ("new set",))


def test_pronunciations_keep_their_order_and_stress() -> None:
    """One pronunciation or a list, phones with single spaces."""
    edited = GOOD.replace("sections:", "pronounce:\n  Merlow: [M ER1  L OW0, M EH R L OW]\nsections:")
    assert parse_check(edited, PATH).pronounce == {"merlow": ("M ER1 L OW0", "M EH R L OW")}


def test_words_that_mislead_yaml_stay_words() -> None:
    """An unquoted `on`, `off`, `yes` or `no` is the word itself."""
    edited = (
        GOOD.replace('item: "on"', "item: on").replace('"off"', "off").replace("both lit: pass", "yes: pass")
    )
    check = parse_check(edited, PATH)
    assert check.item("on").name == "on"
    assert check.item("back").body == Action(check.item("back").responses, "off")
    assert check.item("lamps").responses[0].phrases == ("yes",)
