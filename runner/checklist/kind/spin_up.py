"""A spin-up: a gyro's clock, which runs beside the items from power-on until its flag is pulled."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import ceil
from typing import Any, ClassVar, Final, Self

from runner.checklist.format.check import Body, Response
from runner.checklist.format.duration import read_seconds
from runner.checklist.format.phrase import phrase_of, read_phrases
from runner.checklist.format.scope import Scope
from runner.document import Node
from runner.language.catalogue import FlagEnd, Outcome, Unit
from runner.language.force import normal_phrase
from runner.language.meaning import Meaning, Pulled, Stuck
from runner.language.number import spoken_seconds

SPIN_UP_REQUIRED: Final = ("gyro", "starts", "advise", "limit")
SPIN_UP_OPTIONAL: Final = ("ends", "stuck")
PULLED_LETTERS: Final = "ghjkf"
"""The right hand's home row; for stuck the row below."""
STUCK_LETTERS: Final = "vbmxz"


@dataclass(frozen=True, slots=True)
class SpinUp(Body):
    """A gyro's clock: starts with the answer of another item, ends on its own phrase."""

    key: ClassVar[str] = "spin_up"
    moves_nothing: ClassVar[str] = "clock is never asked in turn"

    gyro: str
    """The gyro's name in the airplane file."""
    starts_on: str
    """Name of the item whose answer starts the clock (at the onset of that answer)."""
    pulled: Response
    stuck: Response
    """Said when the flag does not pull; in force from the limit on, always a squawk."""
    advise_seconds: float
    limit_seconds: float

    @classmethod
    def read(cls, node: Node, scope: Scope) -> Self:
        """A spin-up; FileError when its times or phrases cannot work."""
        keys = node.mapping(SPIN_UP_REQUIRED, SPIN_UP_OPTIONAL)
        gyro = keys["gyro"].text()
        advise, limit = read_seconds(keys["advise"]), read_seconds(keys["limit"])
        if advise >= limit:
            keys["advise"].fail(
                f"advise at {advise:g} s does not come before the limit at {limit:g} s; write a shorter time"
            )
        pulled = Response(
            FlagEnd.PULLED.value, _phrases(keys, "ends", node, f"{phrase_of(gyro)} flag pulled")
        )
        stuck = Response(
            FlagEnd.STUCK.value,
            _phrases(keys, "stuck", node, f"{phrase_of(gyro)} flag stuck"),
            Outcome.SQUAWK,
        )
        for phrase in stuck.phrases:
            if phrase in pulled.phrases:
                keys.get("stuck", node).fail(f'"{phrase}" also ends the clock; write different words for one')
        return cls(gyro, scope.starter(keys["starts"]).name, pulled, stuck, advise, limit)

    @property
    def clock(self) -> Self:
        """It is one."""
        return self

    def named(self) -> tuple[Response, ...]:
        """Pulled and stuck."""
        return (self.pulled, self.stuck)

    def letters(self, response: Response) -> str:
        """One hand's rows, whatever the words: a clock is ended without a look at the keys."""
        return PULLED_LETTERS if response == self.pulled else STUCK_LETTERS

    def keyed(self, keys: Mapping[str, str]) -> Self:
        """The same with these keys, by labels."""
        pulled, stuck = (replace(one, key=keys[one.label]) for one in self.named())
        return replace(self, pulled=pulled, stuck=stuck)

    def endings(self, name: str, *, is_stuck: bool) -> Mapping[str, Meaning]:
        """The phrases that end the clock, its flag pulled, or as a squawk; `name` is the item's."""
        response, meaning = (self.stuck, Stuck(name)) if is_stuck else (self.pulled, Pulled(name))
        return {normal_phrase(words, name): meaning for words in response.phrases}

    def outcome(self, seconds: float, *, is_pulled: bool = True) -> Outcome:
        """PASS up to the advise time, CAUTION up to the limit, SQUAWK after it or when the flag is stuck."""
        if not is_pulled or seconds > self.limit_seconds:
            return Outcome.SQUAWK
        return Outcome.PASS if seconds <= self.advise_seconds else Outcome.CAUTION

    def ended(self, seconds: float, *, is_pulled: bool) -> str:
        """How its clock ended, as it is read back."""
        spoken = spoken_seconds(seconds)
        return spoken if is_pulled else f"{self.stuck.label}, {spoken}"

    def read_backs(self) -> Iterator[tuple[Outcome, str]]:
        """Its times in whole seconds, up to the limit."""
        for seconds in range(1, ceil(self.limit_seconds) + 1):
            yield self.outcome(seconds), f"{self.gyro}, {spoken_seconds(seconds)}"

    def expected(self) -> str:
        """Its times."""
        return f"advise {self.advise_seconds:g} s, limit {self.limit_seconds:g} s"

    def figures(self) -> Mapping[str, Any]:
        """Its times."""
        return {"unit": Unit.SECONDS.value, "advise": self.advise_seconds, "limit": self.limit_seconds}


def _phrases(keys: Mapping[str, Node], name: str, node: Node, default: str) -> tuple[str, ...]:
    """The phrases written under a key, else the default said aloud."""
    return read_phrases(keys.get(name, replace(node, value=default)))
