from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import pytest

from runner.checklist.finding import Grade
from runner.checklist.lint import lint
from runner.checklist.load import parse_check
from runner.checklist.model import Check

TIDY = """\
check: A tidy check
airplane: merlow-ml2
cautions:
  - For the ground only. The flight manual decides.
  - This check drains the battery. Ground power unplugged, nobody near the inlets.
  - Touch each switch. A heater burns.
sections:
  - section: Bus
    items:
      - item: selector
        challenge: Selector to reserve
        why: The battery carries the bus from here on.
        critical: true
        action: reserve selected
        selects: reserve
      - item: fit
        challenge: Which radio
        why: The two sets wake up differently.
        choice: [new set, old set]
      - item: new radio
        challenge: New radio
        why: It must live.
        when: {item: fit, answer: new set}
        state:
          display lit: pass
          display dark: squawk
      - item: heat
        challenge: Heat switch on
        why: It must be shed.
        dead:
          loads: pitot heat
          on: nothing
  - section: Restore
    items:
      - item: back
        challenge: Selector back
        why: It drains the battery.
        action: selector off
        selects: "off"
        restores: true
      - item: end
        challenge: Call
        why: It ends the check.
        call: bus check complete
"""


def lint_edited(*edits: tuple[str, str]) -> list[str]:
    """Findings on the tidy check after edits, without the path."""
    text = TIDY
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return [str(finding).removeprefix("x.yaml:") for finding in lint(parse_check(text, Path("x.yaml")))]


def test_a_tidy_check_has_no_findings() -> None:
    """The check that the other tests spoil."""
    assert lint_edited() == []


@pytest.mark.parametrize("answer", ["checked", "set", "done", "OK", "complete", "as required"])
def test_answers_must_say_what_is_seen(answer: str) -> None:
    """NASA CR-177549 appendix A, guideline 4; AC 120-71B 5.4."""
    found = lint_edited(("action: reserve selected", f"action: {answer}"))
    assert found[0].startswith('10:9: warning: section "Bus": item "selector": the answer "')
    assert "answer with the state or the value (CR-177549 App. A 4)" in found[0]


def test_one_telling_answer_is_enough() -> None:
    """A generic word beside a telling one is no matter."""
    edit = (
        "action: reserve selected",
        "action: {reserve selected: {say: [reserve selected, switch is set]}}",
    )
    assert lint_edited(edit) == []


def lamps(letters: str) -> tuple[str, str]:
    """An edit that adds one lamp item per letter to the first section."""
    rows = "".join(
        f"      - item: lamp {letter}\n        challenge: Lamp {letter}\n"
        "        why: It lights.\n        action: lamp is lit\n"
        for letter in letters
    )
    return "  - section: Restore\n", f"{rows}  - section: Restore\n"


def test_more_than_ten_items_are_too_many() -> None:
    """NUREG/CR-1278 table 20-7 (from memory): short lists are of ten items or fewer."""
    assert lint_edited(lamps("abcdef")) == []
    (found,) = lint_edited(lamps("abcdefg"))
    assert 'item "lamp g": the section has 11 items, more than 10 (NUREG/CR-1278 Table 20-7)' in found


def test_alternatives_of_one_choice_count_once() -> None:
    """Only one of them is asked."""
    other = (
        "      - item: old radio\n        challenge: Old radio\n        why: It must live.\n"
        "        when: {item: fit, answer: old set}\n        state:\n"
        "          dial lit: pass\n          dial dark: squawk\n"
    )
    assert lint_edited(("      - item: heat\n", f"{other}      - item: heat\n"), lamps("abcdef")) == []


def test_critical_items_come_first() -> None:
    """NASA CR-177549 appendix A, guideline 10, which goes before the order of the panel."""
    (found,) = lint_edited(
        ("        why: It must be shed.\n", "        why: It must be shed.\n        critical: true\n")
    )
    assert found.startswith(
        '27:9: warning: section "Bus": item "heat": critical, but after "fit", which is not'
    )
    assert "(CR-177549 App. A 10)" in found


def test_every_item_has_a_reason() -> None:
    """A student may ask why."""
    (found,) = lint_edited(("        why: It must be shed.\n", ""))
    assert found.endswith('item "heat": no reason is given; add "why: ..."')


def test_only_critical_items_are_asked_twice() -> None:
    """NASA CR-177549 appendix A, guideline 11."""
    (found,) = lint_edited(("challenge: Heat switch on", "challenge: Which radio"))
    assert 'asks the same as "fit"; only critical items are repeated (CR-177549 App. A 11)' in found
    assert lint_edited(("challenge: Selector back", "challenge: Selector to reserve")) == []


def test_a_choice_decides_something() -> None:
    """A choice that no item depends on is a question without a use."""
    (found,) = lint_edited(("        when: {item: fit, answer: new set}\n", ""))
    assert 'item "fit": no item depends on this choice' in found


@pytest.mark.parametrize("challenge", ["HEAT SWITCH ON", "Heat SWITCH on", "PITOT HEAT"])
def test_challenges_are_not_shouted(challenge: str) -> None:
    """NASA CR-177605 section 6: long chunks of text in lower case."""
    (found,) = lint_edited(("challenge: Heat switch on", f"challenge: {challenge}"))
    assert "in capitals" in found
    assert "CR-177605" in found


def test_abbreviations_may_be_in_capitals() -> None:
    """A label such as DME is not shouting."""
    assert lint_edited(("challenge: Heat switch on", "challenge: DME heat switch on")) == []


def test_the_call_says_complete() -> None:
    """NASA CR-177549 appendix A, guideline 6."""
    (found,) = lint_edited(("call: bus check complete", "call: bus check over"))
    assert "(CR-177549 App. A 6)" in found


def test_short_single_words_are_advised_against() -> None:
    """Our own choice; advice, no warning."""
    (found,) = lint_edited(("          display lit: pass", "          lit: pass"))
    assert found.startswith("20:9: advice: ")
    assert '"lit" alone is easily misheard; say two words' in found


CAUTIONS = {
    "no manual": ("The flight manual decides.", "", "warning: cautions: say that the flight manual"),
    "no ground": (
        "the ground only",
        "demonstration",
        "warning: cautions: say that the check is for the ground only",
    ),
    "no battery": ("This check drains the battery. ", "", "say that the check drains the battery"),
    "no ground power": ("Ground power unplugged, ", "", "ask for ground power to be unplugged"),
    "no inlets": (", nobody near the inlets", "", "ask for a clear propeller or inlet area"),
    "no burns": (" A heater burns.", "", "say that a heater burns"),
    "no touch": ("Touch each switch. ", "", "advice: cautions: ask to touch each switch before answering"),
}


@pytest.mark.parametrize(("old", "new", "message"), CAUTIONS.values(), ids=CAUTIONS.keys())
def test_each_danger_has_its_caution(old: str, new: str, message: str) -> None:
    """Common practice, no source, but for touching (NASA CR-177549 appendix A, guideline 5)."""
    found = lint_edited((old, new))
    assert any(message in each for each in found), found
    assert all(each.startswith("1:1: ") for each in found)


def test_a_check_that_moves_nothing_needs_fewer_cautions() -> None:
    """Battery, ground power and propeller matter when the selector moves; burns when something heats."""
    text = TIDY[: TIDY.index("  - This check")] + TIDY[TIDY.index("  - Touch each") :].replace(
        " A heater burns.", ""
    )
    text = text.replace('        selects: "off"\n        restores: true\n', "").replace(
        "        selects: reserve\n", ""
    )
    start, end = text.index("      - item: heat"), text.index("  - section: Restore")
    assert lint(parse_check(text[:start] + text[end:], Path("x.yaml"))) == ()


@dataclass(frozen=True, slots=True)
class Alike:
    """Two phrases that are confused, as a language reports them."""

    item: str
    is_same: bool
    message: str


def test_confused_phrases_are_found_by_a_language() -> None:
    """What sounds alike is a warning, what is the same an error; both at the item."""

    def confusions(_: Check) -> Iterable[Alike]:
        return (Alike("fit", is_same=False, message="alike"), Alike("selector", is_same=True, message="same"))

    findings = lint(parse_check(TIDY, Path("x.yaml")), confusions)
    assert [finding.grade for finding in findings] == [Grade.ERROR, Grade.WARNING]
    assert [finding.message for finding in findings] == [
        'section "Bus": item "selector": same',
        'section "Bus": item "fit": alike',
    ]


def test_words_that_no_dictionary_has_are_told_once() -> None:
    """Where they come first, unless the check says how they sound."""

    def is_known(word: str) -> bool:
        return word not in ("reserve", "display")

    text = TIDY.replace("sections:", "pronounce:\n  reserve: R IH Z ER V\nsections:")
    (finding,) = lint(parse_check(text, Path("x.yaml")), is_known=is_known)
    assert finding.grade is Grade.ADVICE
    assert finding.message == (
        'section "Bus": item "new radio": no dictionary has "display"; '
        'add it to "pronounce", or use another word'
    )
