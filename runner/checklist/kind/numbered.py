"""Kinds that are answered with a number: what may be said, what is read back, how it is judged."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Self

from runner.checklist.format.check import Body
from runner.language.catalogue import Outcome, Unit
from runner.language.meaning import Meaning, Value
from runner.language.number import readback, value_phrases, values


@dataclass(frozen=True, slots=True)
class Band:
    """Values from low to high, both included."""

    low: Decimal
    high: Decimal

    def __contains__(self, number: Decimal) -> bool:
        return self.low <= number <= self.high

    def __str__(self) -> str:
        return f"{self.low} to {self.high}"

    def ends(self) -> list[float]:
        """Low and high, for JSON."""
        return [float(self.low), float(self.high)]


class Numbered(Body):
    """A number with a unit, entered in digits or said in words; out of its band it is to be confirmed."""

    __slots__ = ()

    unit: Unit
    resolution: Decimal
    """Smallest step that the gauge shows, such as 0.1."""
    pass_band: Band
    caution_band: Band | None
    """Outside the pass band but inside this one is a caution; None where nothing is."""
    plausible: Band
    """Values that can be said at all; the phrases in force are generated from it."""

    def outcome(self, _number: Decimal) -> Outcome:
        """What a value means for the airplane."""
        raise NotImplementedError

    def bands(self) -> str:
        """Which values pass and which are a caution, as a screen tells it once a value was out of them."""
        caution = "" if self.caution_band is None else f", a caution from {self.caution_band}"
        return f"passes from {self.pass_band} {self.unit}{caution}"

    def is_under_floor(self, _number: Decimal) -> bool:
        """Whether the value is so low that it stops the run, and what was moved comes back first."""
        return False

    def nearest_harmless(self, number: Decimal) -> Decimal:
        """The plausible value nearest to this one that stops no run."""
        near = min(max(number, self.plausible.low), self.plausible.high).quantize(self.resolution)
        if self.outcome(near) is not Outcome.STOP:
            return near
        safe = (each for each in self.values() if self.outcome(each) is not Outcome.STOP)
        return min(safe, key=lambda each: abs(each - near))

    @property
    def number(self) -> Self:
        """It is one."""
        return self

    def sayings(self, name: str) -> Iterator[tuple[str, Meaning]]:
        """Every way to say every plausible value."""
        return ((phrase, Value(name, number)) for phrase, number in self.phrases().items())

    def phrases(self) -> Mapping[str, Decimal]:
        """What may be said for each plausible value; ValueError when there are too many of them."""
        return value_phrases(self.unit, self.resolution, self.plausible.low, self.plausible.high)

    def values(self) -> tuple[Decimal, ...]:
        """The plausible values, upwards."""
        return values(self.resolution, self.plausible.low, self.plausible.high)

    def spoken(self, number: Decimal) -> str:
        """A value as it is read back, with its unit."""
        return readback(number, self.unit, self.resolution)

    def said(self, answer: str) -> str:
        """A value on record as it is read back."""
        return self.spoken(Decimal(answer))

    def read_backs(self) -> Iterator[tuple[Outcome, str]]:
        """Every value, in its own order: each is read back in full."""
        return ((self.outcome(number), self.spoken(number)) for number in self.values())
