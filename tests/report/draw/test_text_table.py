"""Tables of plain text."""

from runner.report.draw.text_table import table


def test_columns_are_as_wide_as_their_widest_cell() -> None:
    """All but the last; no blanks are left at the end of a line."""
    lines = table([("a", "long cell", "end"), ("longer", "b", "")], "")
    assert lines == ["a       long cell  end", "longer  b"]


def test_short_rows_are_filled_up() -> None:
    """A row with fewer cells stands under the first columns."""
    assert table([("one", "two", "three"), ("four",)]) == ["  one   two  three", "  four"]


def test_no_rows_make_no_lines() -> None:
    """An empty table is empty."""
    assert table([]) == []
