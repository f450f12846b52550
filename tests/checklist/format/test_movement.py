from pathlib import Path

import pytest

from runner.checklist.format.check import Check
from runner.checklist.format.check_load import parse_check
from runner.checklist.kind.dead import Dead
from runner.errors import FileError

GOOD = (Path(__file__).parents[1] / "good.yaml").read_text(encoding="utf-8")
NEW, OLD = "{item: fit, answer: new set}", "{item: fit, answer: old set}"


def edited(*edits: tuple[str, str]) -> Check:
    """The good check after edits, each at a place that occurs once."""
    text = GOOD
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return parse_check(text, Path("x.yaml"))


def test_an_item_says_what_it_moves_and_another_what_it_returns() -> None:
    """What puts something back is critical, as what restores the selector is."""
    check = edited()
    assert check.item("heat").moves == ("heat switch",)
    assert check.item("cool again").returns == ("heat switch",)
    assert check.item("cool again").critical
    assert not check.item("heat").critical


def test_a_dead_item_says_what_must_be_on() -> None:
    """`nothing` is for loads without a switch."""
    body = edited().item("heat").body
    assert isinstance(body, Dead)
    assert body.switches == ("heat switch",)
    bare = edited(("on: heat switch", "on: nothing")).item("heat").body
    assert isinstance(bare, Dead)
    assert bare.switches == ()


def test_what_an_earlier_item_switched_on_counts() -> None:
    """The mover need not be the dead item itself."""
    check = edited(
        ("        moves: heat switch\n", ""), ("item: lamps\n", "item: lamps\n        moves: heat switch\n")
    )
    assert check.item("lamps").moves == ("heat switch",)


def test_what_was_returned_is_off_again() -> None:
    """A dead item after the return of its switch proves nothing."""
    cold = "      - item: still cold\n        dead: {loads: heat, on: heat switch}\n"
    later = f"  - section: Restore\n    items:\n{cold}"
    with pytest.raises(FileError, match='"heat switch" may be off here'):
        edited(("  - section: Restore\n    items:\n", later))


def test_a_switch_that_only_one_branch_moves_may_be_off_in_the_other() -> None:
    """The dead item must hang on the same answer."""
    moved = ("item: lamps\n", f"item: lamps\n        when: {NEW}\n        moves: heat switch\n")
    with pytest.raises(FileError, match='"heat switch" may be off here'):
        edited(("        moves: heat switch\n", ""), moved)
    check = edited(("        moves: heat switch\n", f"        when: {NEW}\n"), moved)
    assert check.item("heat").when == check.item("lamps").when


def test_alternatives_may_move_the_same_switch() -> None:
    """One return without a condition serves both; one with a condition of its own does not."""
    other = f"item: lamps\n        when: {OLD}\n        moves: heat switch\n"
    branch = ("        moves: heat switch\n", f"        moves: heat switch\n        when: {NEW}\n")
    assert edited(branch, ("item: lamps\n", other)).item("cool again").when is None
    bound = ("returns: heat switch\n", f"returns: heat switch\n        when: {NEW}\n")
    with pytest.raises(FileError, match="may have been moved where this is not asked"):
        edited(branch, bound, ("item: lamps\n", other))


def test_a_return_may_hang_on_what_its_mover_hangs_on() -> None:
    """Then it is asked whenever the switch was moved."""
    branch = ("        moves: heat switch\n", f"        moves: heat switch\n        when: {NEW}\n")
    bound = ("returns: heat switch\n", f"returns: heat switch\n        when: {NEW}\n")
    assert edited(branch, bound).item("cool again").when == edited(branch, bound).item("heat").when


def test_the_remedy_and_the_silence_are_the_author_s() -> None:
    """Thirty seconds where none is written."""
    check = edited(
        ("left out: squawk", "left out: stop"),
        ("item: lamps\n", "item: lamps\n        remedy: Leave the power off.\n        silence: 45 s\n"),
    )
    assert check.item("lamps").remedy == "Leave the power off."
    assert check.item("lamps").silence_seconds == 45.0
    assert check.item("volts").silence_seconds == 30.0


def test_a_recorded_check_of_an_earlier_version_is_still_read() -> None:
    """It did not say which switch must be on for a dead thing; its run is reported and resumed as ever."""
    old = GOOD.replace("          on: heat switch\n", "")
    with pytest.raises(FileError, match="what is switched off is dead anyway"):
        parse_check(old, Path("x.yaml"))
    body = parse_check(old, Path("x.yaml"), is_recorded=True).item("heat").body
    assert isinstance(body, Dead)
    assert (body.loads, body.switches) == (("pitot heat",), ())
