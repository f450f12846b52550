from dataclasses import replace
from pathlib import Path

import pytest

from runner.checklist.format.check import Item, Response
from runner.checklist.format.check_load import load_check, parse_check
from runner.checklist.format.key import with_keys
from runner.checklist.kind.named_state import NamedState
from runner.checklist.kind.spin_up import SpinUp
from runner.errors import FileError, Place
from runner.language.catalogue import Outcome

GOOD = Path(__file__).parents[1] / "good.yaml"
PLACE = Place(Path("x.yaml"), 1, 1)


def state(name: str, *labels: str) -> Item:
    """An item with these answers, no key chosen."""
    return Item(name, name, NamedState(tuple(Response(label, (label,)) for label in labels)), "", PLACE)


def clock(name: str) -> Item:
    """A clock, no key chosen."""
    body = SpinUp(name, "on", Response("pulled", ("a",)), Response("stuck", ("b",)), 1.0, 2.0)
    return Item(name, name, body, "", PLACE)


def keys(item: Item) -> list[str]:
    """The keys of its answers."""
    return [response.key for response in item.responses]


def test_initials_are_chosen_where_they_are_free() -> None:
    """Later words of the label and then its other letters follow."""
    (lamps,) = with_keys([state("lamps", "both lit", "left out", "right out", "both out", "bolt")])
    assert keys(lamps) == ["b", "l", "r", "o", "t"]


def test_a_clock_s_letters_answer_nothing_else() -> None:
    """A clock can be ended at any item, so no item shares its letters."""
    gyro, other, lamps = with_keys(
        [clock("one"), clock("two"), state("lamps", "green", "horizon", "violet", "blue")]
    )
    assert [keys(gyro), keys(other)] == [["g", "v"], ["h", "b"]]
    assert keys(lamps) == ["r", "o", "i", "l"]


def test_a_clock_leaves_the_letters_of_the_words_that_a_question_waits_for() -> None:
    """Affirm, negative and continue are keyed a, n and c while clocks run on."""
    clocks = with_keys([clock(str(number)) for number in range(11)])
    assert not {key for each in clocks for key in keys(each)} & {"a", "c", "n"}


def test_a_key_that_was_written_is_kept() -> None:
    """Clocks and other answers make room for it."""
    text = GOOD.read_text(encoding="utf-8").replace("left out: squawk", "left out: {means: squawk, key: g}")
    check = parse_check(text, Path("x.yaml"))
    assert keys(check.item("lamps")) == ["b", "g"]
    assert keys(check.item("gyro")) == ["h", "v"]


def test_the_same_words_keep_their_letter_from_item_to_item() -> None:
    """And a letter of the item before is given to nothing else."""
    lamps, gear = with_keys([state("lamps", "left out", "out"), state("gear", "level", "out", "left out")])
    assert (keys(lamps), keys(gear)) == (["l", "o"], ["e", "o", "l"])


def test_a_squawk_has_the_letter_before_what_passes() -> None:
    """What passes has the space bar; at a critical item it has not, and the order decides."""
    answers = (Response("lit", ("lit",)), Response("left out", ("left out",), Outcome.SQUAWK))
    lamps = replace(state("lamps"), body=NamedState(answers))
    assert keys(with_keys([lamps])[0]) == ["i", "l"]
    assert keys(with_keys([replace(lamps, critical=True)])[0]) == ["l", "o"]


def test_every_answer_has_a_key_of_its_own() -> None:
    """Within an item, and between any item and any clock."""
    check = load_check(GOOD)
    held = [key for item, _ in check.clocks() for key in keys(item)]
    for item in check.items:
        own = keys(item) if isinstance(item.body, SpinUp) else keys(item) + held
        assert len(set(own)) == len(own)
        assert all(len(key) == 1 and key.islower() for key in own)


def test_too_many_answers_are_refused() -> None:
    """Twenty-six letters serve twenty-six answers."""
    labels = [f"answer {number}" for number in range(27)]
    assert len(set(keys(with_keys([state("many", *labels[:26])])[0]))) == 26
    with pytest.raises(
        FileError, match='item "many": no letter is left for its answers; write fewer of them'
    ):
        with_keys([state("many", *labels)])
