from collections import defaultdict
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words

from runner.checklist.kind.reading import Reading
from runner.language.catalogue import Unit
from runner.language.number import MOST_VALUES, readback, spoken_forms
from runner.language.spelling import normalise
from tests.language.sample import reading

# Status of a source: SEEN-2 quoted by another source, MEM from memory, derived by applying the rule.

# One gauge of each kind over more than it will ever show (ranges are this project's choice).
GAUGES = {
    "volts": reading("0", "40"),
    "volts of a 28 V system": reading("20", "34"),
    "fine volts": reading("20", "30", "0.05"),
    "amps": reading("-60", "60", "1", Unit.AMPS),
    "fine amps": reading("0", "300", "0.1", Unit.AMPS),
    "seconds": reading("0", "600", "1", Unit.SECONDS),
    "tenths of seconds": reading("0", "180", "0.1", Unit.SECONDS),
    "heading": reading("0", "360", "1", Unit.DEGREES),
    "temperature": reading("-40", "60", "1", Unit.DEGREES),
    "percent": reading("0", "110", "1", Unit.PERCENT),
}
every_gauge = pytest.mark.parametrize("gauge", GAUGES.values(), ids=GAUGES)

RESOLUTIONS = ("0.01", "0.05", "0.1", "0.2", "0.25", "0.5", "1", "2", "5", "10")


@st.composite
def gauges(draw: st.DrawFn) -> Reading:
    """Any unit and resolution, over a band of up to 300 steps that may begin below zero."""
    resolution = Decimal(draw(st.sampled_from(RESOLUTIONS)))
    first = draw(st.integers(-400, 4000))
    steps = draw(st.integers(0, 300))
    low, high = resolution * first, resolution * (first + steps)
    return reading(str(low), str(high), str(resolution), draw(st.sampled_from(Unit)))


@pytest.mark.parametrize(
    ("written", "unit", "spoken"),
    [
        ("10", Unit.VOLTS, "one zero"),  # AIM 4-2-8d (MEM)
        ("500", Unit.SECONDS, "five hundred"),  # AIM 4-2-8a (MEM)
        ("4500", Unit.VOLTS, "four thousand five hundred"),  # AIM 4-2-8a (SEEN-2)
        ("10000", Unit.VOLTS, "one zero thousand"),  # AIM 4-2-8b (SEEN-2)
        ("118.5", Unit.VOLTS, "one one eight point five"),  # AIM 4-2-8e (SEEN-2)
        ("122.1", Unit.VOLTS, "one two two point one"),  # AIM 4-2-8e (MEM)
        ("122.1", Unit.VOLTS, "one two two decimal one"),  # AIM 4-2-8e NOTE, the ICAO form (SEEN-2)
        ("118.125", Unit.VOLTS, "one one eight decimal one two five"),  # CAP 413 2.15 Table 6 (SEEN-2)
        ("100.3", Unit.VOLTS, "one zero zero decimal three"),  # Annex 10 Vol II 5.2.1.4.1.2 (MEM)
        ("38143.9", Unit.VOLTS, "three eight one four three decimal nine"),  # same (MEM)
        ("24.6", Unit.VOLTS, "two four decimal six"),  # the rule applied (derived)
        ("24.6", Unit.VOLTS, "two four point six"),  # the rule applied (derived)
        ("30", Unit.DEGREES, "zero three zero"),  # FAA JO 7110.65 2-4-17 (SEEN-2)
    ],
)
def test_a_published_form_is_accepted(written: str, unit: Unit, spoken: str) -> None:
    """Each published form that a gauge could show is among the spoken forms."""
    assert spoken in spoken_forms(Decimal(written), unit, Decimal("0.1"))


def test_tenths_may_be_said_in_every_way_of_the_ramp() -> None:
    """24.6 in digits or in groups, with decimal, point or neither, the unit before, after or left out."""
    forms = spoken_forms(Decimal("24.6"), Unit.VOLTS, Decimal("0.1"))
    numbers = [
        f"{whole} {rest}"
        for whole in ("two four", "twenty four")
        for rest in ("decimal six", "point six", "six")
    ]
    expected = {form for words in numbers for form in (words, f"{words} volts", f"volts {words}")}
    assert set(forms) == expected
    assert forms[0] == "two four decimal six"


def test_a_whole_value_needs_no_decimal() -> None:
    """24 on a gauge with tenths may be said with or without its zero."""
    forms = spoken_forms(Decimal("24.0"), Unit.VOLTS, Decimal("0.1"))
    assert {"two four", "twenty four", "two four decimal zero", "twenty four volts"} <= set(forms)


def test_zeros_at_the_end_may_be_left_off() -> None:
    """24.50 on a fine gauge is "decimal five" as well as "decimal five zero"."""
    forms = spoken_forms(Decimal("24.50"), Unit.VOLTS, Decimal("0.05"))
    assert {"two four decimal five", "two four decimal five zero"} <= set(forms)


def test_tens_are_never_said_without_their_decimal() -> None:
    """20.6 is not "twenty six", nor 100.2 "one hundred two": those are other numbers."""
    assert "twenty six" not in spoken_forms(Decimal("20.6"), Unit.VOLTS, Decimal("0.1"))
    assert "one hundred two" not in spoken_forms(Decimal("100.2"), Unit.VOLTS, Decimal("0.1"))
    assert "two zero six" in spoken_forms(Decimal("20.6"), Unit.VOLTS, Decimal("0.1"))


def test_hundreds_are_said_in_groups_or_digits() -> None:
    """120 is "one hundred twenty" or "one two zero"."""
    forms = spoken_forms(Decimal(120), Unit.SECONDS, Decimal(1))
    assert {"one hundred twenty", "one two zero", "one two zero seconds"} <= set(forms)


def test_no_form_is_the_tail_of_another_number() -> None:
    """Nothing starts with the decimal point, so a clipped beginning cannot turn 24.6 into 0.6."""
    forms = spoken_forms(Decimal("0.6"), Unit.VOLTS, Decimal("0.1"))
    assert not [form for form in forms if form.removeprefix("volts ").startswith(("decimal", "point"))]


def test_a_number_that_is_none_is_refused() -> None:
    """NaN has no words."""
    with pytest.raises(ValueError, match="NaN cannot be spoken"):
        readback(Decimal("NaN"), Unit.VOLTS, Decimal("0.1"))


@pytest.mark.parametrize(
    ("written", "unit", "resolution", "spoken"),
    [
        ("24.6", Unit.VOLTS, "0.1", "two four decimal six volts"),
        ("24", Unit.VOLTS, "0.1", "two four decimal zero volts"),
        ("24.65", Unit.VOLTS, "0.1", "two four decimal six five volts"),
        ("120", Unit.SECONDS, "1", "one two zero seconds"),
        ("1", Unit.VOLTS, "1", "one volt"),
        ("1", Unit.VOLTS, "0.1", "one decimal zero volts"),
        ("1", Unit.PERCENT, "1", "one percent"),
        ("-1", Unit.AMPS, "1", "minus one amp"),
        ("-5", Unit.DEGREES, "1", "minus five degrees"),
        ("1E+2", Unit.PERCENT, "1E+1", "one zero zero percent"),
        ("-0", Unit.AMPS, "1", "zero amps"),
    ],
)
def test_a_value_is_read_back_digit_by_digit(written: str, unit: Unit, resolution: str, spoken: str) -> None:
    """ICAO's rule, Annex 10 Vol II 5.2.1.4: digits, "decimal", and the unit."""
    assert readback(Decimal(written), unit, Decimal(resolution)) == spoken


@every_gauge
def test_every_value_comes_back_from_its_readback(gauge: Reading) -> None:
    """What is read back is itself understood as the value, over the whole range of each unit."""
    table = gauge.phrases()
    for number in gauge.values():
        assert table[readback(number, gauge.unit, gauge.resolution)] == number


@every_gauge
def test_num2words_forms_are_understood(gauge: Reading) -> None:
    """What num2words makes of each value of each range ("twenty-four point six") is the same value here."""
    table = gauge.phrases()
    for number in gauge.values():
        assert table[normalise(num2words(number))] == number


@every_gauge
def test_digits_with_their_decimal_are_always_understood(gauge: Reading) -> None:
    """The digits as written, spelled out by this test alone, give each value."""
    table = gauge.phrases()
    names = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
    for number in gauge.values():
        words = [{"-": "minus", ".": "decimal"}.get(c) or names[int(c)] for c in str(number)]
        if "." in str(number):
            assert table[" ".join(words)] == number
            assert table[" ".join(words).replace("decimal", "point")] == number


@every_gauge
def test_niner_and_tree_give_the_same_value(gauge: Reading) -> None:
    """Each readback with ICAO's pronunciations written out is the same phrase."""
    radio = {"three": "tree", "four": "fower", "five": "fife", "nine": "niner"}
    for number in gauge.values():
        spoken = readback(number, gauge.unit, gauge.resolution)
        assert normalise(" ".join(radio.get(word, word) for word in spoken.split())) == spoken


@settings(max_examples=60)
@given(gauges())
def test_no_two_values_share_a_phrase(gauge: Reading) -> None:
    """A phrase is in force exactly when one value of the band owns it."""
    owners = defaultdict(set)
    for number in gauge.values():
        for phrase in spoken_forms(number, gauge.unit, gauge.resolution):
            owners[phrase].add(number)
    table = gauge.phrases()
    assert table == {phrase: min(numbers) for phrase, numbers in owners.items() if len(numbers) == 1}


@settings(max_examples=60)
@given(gauges())
def test_every_form_is_in_its_normal_form(gauge: Reading) -> None:
    """Normalising a spoken form changes nothing, so that the ear's texts are found."""
    assert [phrase for phrase in gauge.phrases() if normalise(phrase) != phrase] == []


@settings(max_examples=60)
@given(gauges())
def test_every_value_can_be_said(gauge: Reading) -> None:
    """No value loses all its phrases to ambiguity; with its unit and with "decimal" it keeps one too."""
    table = gauge.phrases()
    assert set(table.values()) == set(gauge.values())
    with_unit = {number for phrase, number in table.items() if phrase.startswith(gauge.unit.value)}
    assert with_unit == set(gauge.values())


def test_two_readings_of_one_phrase_are_both_dropped() -> None:
    """Where the band holds 2.4 and 24, "two four" means neither, and "twenty four" still means 24."""
    wide = reading("0", "34").phrases()
    assert "two four" not in wide
    assert wide["twenty four"] == Decimal(24)
    assert reading("20", "34").phrases()["two four"] == Decimal(24)


def test_signs_are_said_only_below_zero() -> None:
    """The word minus is in force only where the band goes below zero."""
    cold = reading("-40", "60", "1", Unit.DEGREES).phrases()
    assert cold["minus five degrees"] == Decimal(-5)
    assert cold["five"] == Decimal(5)
    assert not [phrase for phrase in reading("0", "60", "1", Unit.DEGREES).phrases() if "minus" in phrase]


def test_values_are_written_as_the_gauge_shows_them() -> None:
    """24 on a gauge with tenths is 24.0 in the record; tens are not written with an exponent."""
    assert [str(number) for number in reading("23.95", "24.1").values()] == ["24.0", "24.1"]
    assert [str(number) for number in reading("90", "110", "1E+1").values()] == ["90", "100", "110"]


def test_a_band_without_a_value_is_refused() -> None:
    """A band between two steps names itself in the message."""
    with pytest.raises(ValueError, match=r"24\.01 to 24\.09 in steps of 0\.1 is 0 values"):
        reading("24.01", "24.09").phrases()


def test_a_band_with_too_many_values_is_refused() -> None:
    """A band that would make no usable set of phrases names its size."""
    with pytest.raises(ValueError, match=f"is {MOST_VALUES + 1} values"):
        reading("0", str(MOST_VALUES), "1").values()


def test_a_resolution_of_zero_is_refused() -> None:
    """Steps of nothing are no steps."""
    with pytest.raises(ValueError, match="resolution 0 is not above zero"):
        reading("0", "1", "0").values()


def test_the_phrases_are_computed_once() -> None:
    """Equal bands share one table."""
    assert reading("20", "34").phrases() is reading("20.0", "34.00").phrases()
