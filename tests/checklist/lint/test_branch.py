from pathlib import Path

from runner.checklist.format.check import Check
from runner.checklist.format.check_load import parse_check
from runner.checklist.lint.branch import applies, branches, in_words

GOOD = (Path(__file__).parents[1] / "good.yaml").read_text(encoding="utf-8")


def check_with(*conditions: tuple[str, str]) -> Check:
    """The good check, with conditions on items by name."""
    text = GOOD
    for name, condition in conditions:
        text = text.replace(f"- item: {name}\n", f"- item: {name}\n        when: {condition}\n")
    return parse_check(text, Path("x.yaml"))


def test_a_check_without_conditions_goes_one_way() -> None:
    """One branch, with nothing to decide."""
    assert branches(check_with()) == ({},)


def test_each_answer_of_a_deciding_item_is_a_branch() -> None:
    """Items that no condition names decide nothing."""
    check = check_with(("heat", "{item: fit, answer: new set}"))
    assert branches(check) == ({"fit": "new set"}, {"fit": "old set"})


def test_an_item_that_is_not_asked_decides_nothing() -> None:
    """Conditions on conditional items make a tree, not a product."""
    check = check_with(
        ("lamps", "{item: fit, answer: new set}"),
        ("heat", "{item: lamps, answer: both lit}"),
    )
    assert branches(check) == (
        {"fit": "new set", "lamps": "both lit"},
        {"fit": "new set", "lamps": "left out"},
        {"fit": "old set"},
    )
    asked = [[item.name for item in check.items if applies(item, branch)] for branch in branches(check)]
    assert ["heat" in names for names in asked] == [True, False, False]
    assert ["lamps" in names for names in asked] == [True, True, False]


def test_a_branch_is_told_in_words() -> None:
    """For messages; nothing where there is one way only."""
    assert in_words({}) == ""
    assert (
        in_words({"fit": "new set", "lamps": "both lit"})
        == ' when "fit" is "new set" and "lamps" is "both lit"'
    )
