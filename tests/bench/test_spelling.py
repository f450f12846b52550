"""The spellings that Moonshine's decoder may choose among."""

from tests.bench.ear.spelling import spellings


def test_a_word_may_have_a_large_letter_and_a_full_stop() -> None:
    """All four ways, and nothing else."""
    assert set(spellings("area clear")) == {"Area clear.", "Area clear", "area clear.", "area clear"}


def test_digits_may_be_written_as_figures_or_as_one_number() -> None:
    """Spoken digit by digit, with ICAO's word for the point."""
    found = spellings("two four decimal six volts")
    assert {"Two four decimal six volts.", "2 4 decimal 6 volts", "24.6 volts."} <= set(found)


def test_a_number_in_groups_may_have_its_hyphen_or_be_in_figures() -> None:
    """Twenty-four is one number of two words."""
    found = spellings("twenty four point six")
    assert {"Twenty-four point six.", "24 point 6", "24.6"} <= set(found)


def test_a_point_that_stands_alone_stays_a_word() -> None:
    """Only between figures does it become one."""
    assert "Point six" in spellings("point six")
    assert ".6" not in spellings("point six")
