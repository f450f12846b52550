"""Hidden faults: what can be wrong with a played airplane, and when it is there.

A single failure of `runner.fault` keeps its word; the others are of instruments, flags and radios that no
wiring shows, of generators, and of the hands that left the airplane before.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import LoadDrive, Radio, Sense
from runner.airplane.model.source import Generator
from runner.airplane.model.wiring import LinkKind
from runner.fault.fault import Fault, Kind, faults_of

PRESENT_SECONDS: Final = 7.0
ABSENT_SECONDS: Final = 5.0
"""Of what comes and goes; ours: long enough to be seen by who looks twice."""


class HiddenKind(StrEnum):
    """What can be wrong; the value is the word for it."""

    WELDED = Kind.WELDED.value
    NOT_CLOSING = Kind.NOT_CLOSING.value
    BROKEN = Kind.BROKEN.value
    SHORTED = Kind.SHORTED.value
    BREAKER_OUT = Kind.BREAKER_OUT.value
    DEAD = Kind.DEAD.value
    BULB_OUT = Kind.BULB_OUT.value
    WEAK_CELL = Kind.WEAK_CELL.value
    MISWIRED = Kind.MISWIRED.value
    FLAG_LATE = Kind.SLOW.value
    METER_STUCK = Kind.STUCK.value
    TIE_STUCK = "stuck closed"
    """A link that is no relay conducts in every position: a bus that should be shed stays hot."""
    METER_LOW = "reads low"
    FLAG_NEVER = "flag never pulls"
    FLAG_BACK = "flag comes back"
    TUMBLES = "tumbles"
    """Behind a flag that is pulled."""
    DEAF = "alive and deaf"
    """A radio that lights up, hears nothing and sends nothing."""
    GIVES_NOTHING = "gives nothing"
    OVERVOLTS = "overvolts"
    NOT_RESTORED = "not restored"
    """The selector was left on the reserve by whoever was here before."""


BASIS: Final = {
    HiddenKind(kind.value): kind for kind in Kind if kind.value in {each.value for each in HiddenKind}
}
"""The single failure behind each kind that has one."""

COMES_AND_GOES: Final = frozenset(
    {HiddenKind.DEAD, HiddenKind.BULB_OUT, HiddenKind.NOT_CLOSING, HiddenKind.DEAF, HiddenKind.METER_STUCK}
)
"""Kinds that a bad contact makes come and go."""


@dataclass(frozen=True, slots=True, order=True)
class Hidden:
    """One fault of a drill; the student is never told of it."""

    kind: HiddenKind
    name: str
    """The link, breaker, load, gyro, radio, source, meter or selector."""
    part: str = ""
    """The bulb."""
    comes_at: float = 0.0
    """Seconds from the beginning of the drill."""
    comes_and_goes: bool = False

    def __str__(self) -> str:
        where = f"{self.name}, {self.part}" if self.part else self.name
        return f"{where}: {self.kind}{', now and then' if self.comes_and_goes else ''}"

    @property
    def fault(self) -> Fault | None:
        """The single failure behind it; None where no wiring knows it."""
        basis = BASIS.get(self.kind)
        return None if basis is None else Fault(basis, self.name, self.part)

    def is_there(self, seconds: float) -> bool:
        """Whether it shows at this time of the drill."""
        since = seconds - self.comes_at
        if since < 0:
            return False
        return not self.comes_and_goes or since % (PRESENT_SECONDS + ABSENT_SECONDS) < PRESENT_SECONDS


def hidden_faults_of(airplane: Airplane) -> tuple[Hidden, ...]:
    """Every fault that can be hidden in an airplane, in the order of its file."""
    found = [Hidden(HiddenKind(each.kind.value), each.name, each.part) for each in faults_of(airplane)]
    found += _of_ties(airplane)
    found.append(Hidden(HiddenKind.METER_LOW, airplane.voltmeter.name))
    for gyro in airplane.gyros.values():
        found += [Hidden(HiddenKind.FLAG_NEVER, gyro.name), Hidden(HiddenKind.FLAG_BACK, gyro.name)]
        senses = {sense for part in airplane.instruments[gyro.instrument].parts for sense in part.senses}
        if senses & {Sense.ATTITUDE, Sense.DIRECTION}:
            found.append(Hidden(HiddenKind.TUMBLES, gyro.name))
    found += [
        Hidden(HiddenKind.DEAF, name) for name, radio in airplane.radios.items() if _speaks(airplane, radio)
    ]
    for source in airplane.sources.values():
        if isinstance(source, Generator):
            found.append(Hidden(HiddenKind.GIVES_NOTHING, source.name))
            found.append(Hidden(HiddenKind.OVERVOLTS, source.name))
    found.append(Hidden(HiddenKind.NOT_RESTORED, airplane.selector.name))
    intermittent = [replace(each, comes_and_goes=True) for each in found if each.kind in COMES_AND_GOES]
    return (*found, *intermittent)


def present(hidden: Iterable[Hidden], seconds: float) -> tuple[Hidden, ...]:
    """Those that show at this time."""
    return tuple(each for each in hidden if each.is_there(seconds))


def _of_ties(airplane: Airplane) -> Iterator[Hidden]:
    for link in airplane.links.values():
        is_switched = set(link.closed_in) != set(airplane.selector.positions) or bool(link.traits.gates)
        if link.kind is not LinkKind.RELAY and is_switched:
            yield Hidden(HiddenKind.TIE_STUCK, link.name)


def _speaks(airplane: Airplane, radio: Radio) -> bool:
    """Whether something that can be seen or heard hangs on the radio."""
    return any(
        isinstance(drive, LoadDrive) and radio.load in drive.loads
        for instrument in airplane.instruments.values()
        for part in instrument.parts
        for drive in part.drives
    )
