"""Tables of plain text."""

from hypothesis import given
from hypothesis import strategies as st

from runner.report.draw.text_table import table


def test_columns_are_as_wide_as_their_widest_cell() -> None:
    """All but the last; no blanks are left at the end of a line."""
    lines = table([("a", "long cell", "end"), ("longer", "b", "")], "")
    assert lines == ["a       long cell  end", "longer  b"]


def test_short_rows_are_filled_up() -> None:
    """A row with fewer cells stands under the first columns."""
    assert table([("one", "two", "three"), ("four", "")]) == ["  one   two  three", "  four"]


def test_no_rows_make_no_lines() -> None:
    """An empty table is empty."""
    assert table([]) == []


def test_a_row_of_one_cell_is_a_heading_across_all_columns() -> None:
    """It makes no column wider."""
    assert table([("a", "b"), ("a long heading",), ("c", "d")], "") == ["a  b", "a long heading", "c  d"]


def test_the_widest_column_is_wrapped_where_the_terminal_is_narrow() -> None:
    """Under its own column, between words; the others stay as they are."""
    lines = table([("name", "why"), ("pump", "its relay has no power")], "", width=18)
    assert lines == ["name  why", "pump  its relay", "      has no power"]


ROWS = st.lists(st.lists(st.text("abc ", max_size=30), min_size=2, max_size=4), min_size=1, max_size=5)


@given(rows=ROWS, width=st.integers(24, 120))
def test_no_line_is_wider_than_the_terminal_and_no_letter_is_lost(rows: list[list[str]], width: int) -> None:
    """Even where words have to be broken."""
    lines = table(rows, "", width)
    assert max(map(len, lines)) <= width
    assert sorted("".join(lines).replace(" ", "")) == sorted("".join(map("".join, rows)).replace(" ", ""))
