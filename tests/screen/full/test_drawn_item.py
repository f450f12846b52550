"""The item in force as lines, from the largest form to the smallest."""

from dataclasses import replace

import pytest

from runner.screen.full.drawn_item import DrawnItem, draw_item, fewest_lines
from runner.screen.full.lettering import Size, letter
from runner.screen.view import View
from tests.screen.sample import ASKING, BRIEFING, COMPLETE, CONFIRMING, READING, STOPPED, TYPING, VIEWS

EACH_VIEW = pytest.mark.parametrize("name", VIEWS)


def text_of(drawn: DrawnItem) -> str:
    """Its lines as one text."""
    return "\n".join(line.plain for line in drawn.lines)


def has_letters(drawn: DrawnItem, text: str, size: Size, width: int) -> bool:
    """Whether the text stands there in that size."""
    rows = letter(text, width, 40, size) or ("no such letters",)
    return all(any(row.strip() in line.plain for line in drawn.lines) for row in rows)


@EACH_VIEW
@pytest.mark.parametrize("width", [36, 56, 76, 140])
def test_all_is_drawn_from_the_fewest_lines_on(name: str, width: int) -> None:
    """With that many it is whole, with one less it is not, and never is a line wider than the pane."""
    view = VIEWS[name]
    least = fewest_lines(view, width)
    for height in range(least, least + 30):
        drawn = draw_item(view, width, height)
        assert drawn.is_whole
        assert len(drawn.lines) <= height
        assert max((line.cell_length for line in drawn.lines), default=0) <= width
    assert not draw_item(view, width, least - 1).is_whole


@EACH_VIEW
def test_no_caution_and_no_answer_is_ever_cut(name: str) -> None:
    """In the smallest form all words of them are there."""
    view = VIEWS[name]
    words = " ".join(text_of(draw_item(view, 40, fewest_lines(view, 40))).split())
    wanted = [*view.briefing, *view.findings, *(answer.label for answer in view.answers)]
    assert [text for text in wanted if text.replace("•", "") not in words.replace("• ", "")] == []


@pytest.mark.parametrize(("width", "height"), [(56, 10), (76, 14), (70, 25), (150, 40)])
def test_a_reading_in_entry_is_the_largest_thing(width: int, height: int) -> None:
    """Its digits are lettered, and the challenge is not as large as they are."""
    drawn = draw_item(replace(READING, typed="24.6"), width, height)
    order = list(Size)
    size = next(size for size in order if has_letters(drawn, "24.6_ volts", size, width))
    assert not any(
        has_letters(drawn, READING.challenge, other, width) for other in order[: order.index(size) + 1]
    )
    assert "enter takes it" in text_of(drawn)


def test_a_note_in_entry_is_the_largest_thing() -> None:
    """Before its first letter it says what to do."""
    assert has_letters(draw_item(TYPING, 76, 20), "Type the note;", Size.LARGE, 76)
    typed = draw_item(replace(TYPING, typed="left lamp"), 76, 20)
    assert has_letters(typed, "left lamp_", Size.DOUBLE, 76) or has_letters(
        typed, "left lamp_", Size.LARGE, 76
    )
    assert "Type the note; enter keeps it" in text_of(typed)


def test_between_letters_and_plain_words_there_is_one_size() -> None:
    """As lines get few: large letters, small capitals, plain bold words."""
    forms = [draw_item(ASKING, 76, height) for height in (14, 10, 5)]
    sizes = [[size for size in Size if has_letters(one, ASKING.challenge, size, 76)] for one in forms]
    assert sizes == [[Size.LARGE], [Size.SMALL], []]
    assert ASKING.challenge in text_of(forms[2])


def test_the_band_is_shown_when_a_value_is_out_of_it_and_not_before() -> None:
    """Before, it would tell the pilot what to read."""
    assert "passes from 24.8 to 26.3 volts" in text_of(draw_item(CONFIRMING, 76, 20))
    assert "24.8" not in text_of(draw_item(READING, 76, 20))


def test_a_stop_stands_over_everything() -> None:
    """With what to do about it, in whole words, at any width."""
    drawn = draw_item(STOPPED, 30, 30)
    assert drawn.lines[0].plain.startswith(" STOP: somebody there.")
    assert "propeller's disc." in " ".join(text_of(drawn).split())


def test_the_end_lists_what_was_found() -> None:
    """Squawks, then cautions, each with its value."""
    text = text_of(draw_item(COMPLETE, 76, 30))
    assert text.index("squawk: Annunciator lamps") < text.index("caution: Call the right gyro")


@pytest.mark.parametrize("view", [BRIEFING, READING], ids=["cautions", "reading"])
def test_the_keys_stand_in_place_of_the_item(view: View) -> None:
    """Every kind of key, and the words that count now."""
    text = text_of(draw_item(replace(view, shows_keys=True), 76, 20))
    assert "the expected answer, but where it says CRITICAL" in text
    assert "S standby" in text
    assert view.challenge not in text
