"""Readings in words: every form that is accepted for a number, and the one form in which it is read back."""

from collections.abc import Iterable, Iterator, Mapping
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from functools import lru_cache
from types import MappingProxyType
from typing import Final

from runner.language.cardinal import grouped, may_grow
from runner.language.catalogue import Unit
from runner.language.digit import DECIMAL, DIGITS, MINUS, POINT, spell

MOST_VALUES: Final = 10_000
"""Values that one reading may have; more would make no usable set of phrases."""


def spoken_forms(number: Decimal, unit: Unit, resolution: Decimal) -> tuple[str, ...]:
    """Every accepted phrase for a value of a gauge that shows steps of `resolution`, the ICAO form first.

    Digit by digit or in groups; "decimal", "point" or bare decimals; without its unit, before it or
    after it. A number has no phrase that starts with its decimal point: it would be the tail of
    another one. ValueError for a number that is too large or not finite.
    """
    return tuple(_with_unit(_wordings(number, unit, resolution), unit))


def readback(number: Decimal, unit: Unit, resolution: Decimal) -> str:
    """The value as it is read back: digit by digit, with its unit: "two four decimal six volts".

    Source: ICAO Annex 10 Vol II 5.2.1.4.
    """
    words = spell(_written(number, resolution))
    return f"{words} {_unit_after(words, unit)}"


def spoken_seconds(number: float) -> str:
    """A duration in whole seconds, as it is read back."""
    whole = Decimal(number).quantize(Decimal(1), ROUND_HALF_UP)
    return readback(whole, Unit.SECONDS, Decimal(1))


@lru_cache(maxsize=64)
def value_phrases(unit: Unit, resolution: Decimal, low: Decimal, high: Decimal) -> Mapping[str, Decimal]:
    """What may be said for each value from low to high, and the value; computed once per gauge.

    A phrase that could mean two of them is left out ("two four" where they hold 2.4 and 24).
    ValueError when there is no value or more than MOST_VALUES.
    """
    known: dict[str, Decimal] = {}
    twice: set[str] = set()
    for number in values(resolution, low, high):
        for phrase in spoken_forms(number, unit, resolution):
            if known.setdefault(phrase, number) != number:
                twice.add(phrase)
    return MappingProxyType({phrase: number for phrase, number in known.items() if phrase not in twice})


def values(resolution: Decimal, low: Decimal, high: Decimal) -> tuple[Decimal, ...]:
    """The multiples of the resolution from low to high, upwards; ValueError as for the phrases."""
    if not resolution > 0:
        raise ValueError(f"resolution {resolution} is not above zero")
    first = (low / resolution).to_integral_value(ROUND_CEILING)
    last = (high / resolution).to_integral_value(ROUND_FLOOR)
    if not 0 < last - first + 1 <= MOST_VALUES:
        raise ValueError(
            f"{low} to {high} in steps of {resolution} is {max(0, last - first + 1)} values; "
            f"a reading has 1 to {MOST_VALUES}"
        )
    exponent = Decimal(1).scaleb(-_places(resolution))
    return tuple((resolution * step).quantize(exponent) for step in range(int(first), int(last) + 1))


def _wordings(number: Decimal, unit: Unit, resolution: Decimal) -> tuple[str, ...]:
    """The number in words without its unit."""
    whole, _, fraction = _written(abs(number), resolution).partition(".")
    sign = f"{MINUS} " if number < 0 else ""
    wholes = tuple(dict.fromkeys((spell(whole), *grouped(int(whole)))))
    forms = [*_pointed(wholes, fraction)]
    if not fraction.strip("0"):
        forms += [*wholes, *_three_digits(whole, unit, sign)]
    if fraction:
        forms += _bare(wholes, fraction)
    return tuple(dict.fromkeys(sign + words for words in forms))


def _pointed(wholes: tuple[str, ...], fraction: str) -> tuple[str, ...]:
    """The forms with the decimal point; zeros at the end may be left off."""
    fractions = dict.fromkeys((fraction, fraction.rstrip("0") or fraction[:1])) if fraction else ()
    return tuple(
        f"{whole} {point} {spell(decimals)}"
        for decimals in fractions
        for point in (DECIMAL, POINT)
        for whole in wholes
    )


def _bare(wholes: tuple[str, ...], fraction: str) -> Iterator[str]:
    """The forms with the decimal point left out."""
    digits, *groups = wholes
    yield f"{digits} {spell(fraction)}"
    yield from (f"{group} {spell(fraction)}" for group in groups if not may_grow(group))


def _three_digits(whole: str, unit: Unit, sign: str) -> tuple[str, ...]:
    """Degrees may be said as a heading is: "zero three zero" (FAA JO 7110.65 2-4-17)."""
    is_bearing = unit is Unit.DEGREES and not sign
    return (spell(whole.zfill(3)),) if is_bearing else ()


def _with_unit(wordings: Iterable[str], unit: Unit) -> Iterator[str]:
    for words in wordings:
        yield words
        yield f"{words} {_unit_after(words, unit)}"
        yield f"{unit.value} {words}"


def _unit_after(words: str, unit: Unit) -> str:
    is_one = words in (DIGITS["1"], f"{MINUS} {DIGITS['1']}")
    return unit.singular if is_one else unit.value


def _written(number: Decimal, resolution: Decimal) -> str:
    """The number with the decimals that the gauge shows, and any more that it has."""
    if not number.is_finite():
        raise ValueError(f"{number} cannot be spoken")
    places = max(_places(resolution), _places(number))
    return f"{number + 0:.{places}f}"


def _places(number: Decimal) -> int:
    exponent = number.normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0
