"""Letters after NASA CR-177605: sans-serif, lower case kept, similar characters told apart."""

import string

from hypothesis import given
from hypothesis import strategies as st

from runner.screen.full.lettering import ROWS, Size, drawn_width, letter, letterforms

WORDS = st.lists(
    st.text(string.ascii_letters + string.digits, min_size=1, max_size=9), min_size=1, max_size=9
)


def test_every_letter_digit_and_common_mark_has_a_form() -> None:
    """What challenges are written with."""
    for size in Size:
        assert set(string.ascii_letters + string.digits + " .,:;?!'-/()+%_") <= set(letterforms(size))


def test_every_form_is_a_full_rectangle() -> None:
    """Eight rows, small ones five, of one width, of # and dots alone."""
    for size, rows in ((Size.LARGE, 2 * ROWS), (Size.SMALL, 5)):
        for form in letterforms(size).values():
            assert len(form) == rows
            assert len({len(row) for row in form}) == 1
            assert set("".join(form)) <= {"#", "."}


def test_no_two_letters_look_alike() -> None:
    """0 and O, 1 and l above all (NASA CR-177605, recommendation 2: no fonts with similar characters)."""
    forms = letterforms()
    assert len(set(forms.values())) == len(forms)
    for one, other in ("0O", "1l", "1I", "lI", "5S", "2Z", "8B", "uv"):
        assert sum(a != b for a, b in zip("".join(forms[one]), "".join(forms[other]), strict=False)) >= 2


def test_no_two_small_capitals_look_alike() -> None:
    """Five rows tell all of them apart, 0 and O too."""
    forms = letterforms(Size.SMALL)
    capitals = [forms[each] for each in string.ascii_uppercase + string.digits]
    assert len(set(capitals)) == len(capitals)


def test_the_sizes_are_two_to_one_and_three_to_four() -> None:
    """Eight lines, four, and three, of one text."""
    heights = [len(letter("Volts", 100, 20, size) or ()) for size in Size]
    assert heights == [8, 4, 3]
    assert drawn_width("Volts", Size.DOUBLE) == 2 * drawn_width("Volts")


@given(words=WORDS, width=st.integers(4, 130), height=st.integers(1, 40), size=st.sampled_from(Size))
def test_lettering_stays_within_its_room(words: list[str], width: int, height: int, size: Size) -> None:
    """Never wider or higher than asked; what does not fit is not drawn."""
    lines = letter(" ".join(words), width, height, size)
    if lines is not None:
        assert len(lines) <= height
        assert max(map(len, lines)) <= width


@given(words=WORDS)
def test_what_fits_is_drawn(words: list[str]) -> None:
    """With room for the widest word and a row for each, there is always a drawing."""
    width = max(drawn_width(word) for word in words)
    assert letter(" ".join(words), width, len(words) * ROWS) is not None


def test_a_letter_without_a_form_is_left_to_plain_text() -> None:
    """Better small and right than large and maimed."""
    assert letter("Größe?", 200, 50) is None


def test_rows_of_letters_are_kept_apart_where_there_is_room() -> None:
    """One free line between two rows when the height allows it."""
    assert letter("mm mm", 12, 9) == (*_rows("mm"), "", *_rows("mm"))
    assert letter("mm mm", 12, 8) == (*_rows("mm"), *_rows("mm"))


def _rows(text: str) -> tuple[str, ...]:
    """One word as it is drawn."""
    return letter(text, 100, ROWS) or ()
