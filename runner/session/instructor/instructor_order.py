"""Orders of an instructor, as a page sends them, each made into an event of the drill."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from runner.airplane.model.airplane import Airplane
from runner.drill.drill_desk import DrillDesk
from runner.drill.drill_event import (
    DrillEvent,
    DrillFrozen,
    DrillSigned,
    DrillThawed,
    FaultMended,
    FaultTripped,
    InstructorRemark,
)
from runner.drill.played.hidden import Hidden, HiddenKind, hidden_faults_of
from runner.errors import UsageError
from runner.visible import visible

LONGEST_NAME: Final = 60
LONGEST_REMARK: Final = 400

Order = Mapping[str, Any]


def trippable(airplane: Airplane) -> tuple[Mapping[str, str], ...]:
    """Faults that can be put in while a drill goes on, as the page lists them."""
    return tuple(map(fault_plain, _trippable(airplane)))


def fault_plain(fault: Hidden) -> dict[str, str]:
    """A fault as it goes to the page and comes back."""
    return {"kind": fault.kind.value, "name": fault.name, "part": fault.part, "words": str(fault)}


def ordered_event(order: Order, at: float, desk: DrillDesk) -> DrillEvent:
    """What happens by an order, at this time; UsageError where it cannot be."""
    made = _MAKERS.get(str(order.get("order")))
    if made is None:
        raise UsageError(f"no order {order.get('order')!r}; known: {', '.join(_MAKERS)}")
    return made(order, at, desk)


def _freeze(_order: Order, at: float, desk: DrillDesk) -> DrillEvent:
    if desk.is_frozen:
        raise UsageError("time is held already")
    return DrillFrozen(at)


def _thaw(_order: Order, at: float, desk: DrillDesk) -> DrillEvent:
    if not desk.is_frozen:
        raise UsageError("time goes on already")
    return DrillThawed(at)


def _trip(order: Order, at: float, desk: DrillDesk) -> DrillEvent:
    wanted = _fault(order)
    found = next((each for each in _trippable(desk.story.setting.airplane) if each == wanted), None)
    if found is None:
        raise UsageError(f"this airplane cannot have {wanted}")
    if any(each.is_like(found) for each in desk.played.hidden):
        raise UsageError(f"{found} is in the airplane already")
    return FaultTripped(at, found.kind.value, found.name, found.part)


def _mend(order: Order, at: float, desk: DrillDesk) -> DrillEvent:
    wanted = _fault(order)
    if not any(each.is_like(wanted) for each in desk.played.hidden):
        raise UsageError(f"{wanted} is not in the airplane")
    return FaultMended(at, wanted.kind.value, wanted.name, wanted.part)


def _remark(order: Order, at: float, _desk: DrillDesk) -> DrillEvent:
    words = _words(order, "words", LONGEST_REMARK)
    if not words:
        raise UsageError("a remark needs words")
    return InstructorRemark(at, _words(order, "by", LONGEST_NAME) or "instructor", words)


def _sign(order: Order, at: float, desk: DrillDesk) -> DrillEvent:
    by, is_met = _words(order, "by", LONGEST_NAME), order.get("is_met")
    if not by:
        raise UsageError("a signature needs the instructor's name")
    if not isinstance(is_met, bool):
        raise UsageError("say whether the standard was met")
    if any(isinstance(each, DrillSigned) for each in desk.events):
        raise UsageError("the drill is signed off already")
    return DrillSigned(at, by, is_met, _words(order, "words", LONGEST_REMARK))


_MAKERS: Final[Mapping[str, Callable[[Order, float, DrillDesk], DrillEvent]]] = {
    "freeze": _freeze,
    "continue": _thaw,
    "trip": _trip,
    "mend": _mend,
    "remark": _remark,
    "sign": _sign,
}


def _trippable(airplane: Airplane) -> tuple[Hidden, ...]:
    """The selector can only be left wrong before a drill; bad contacts need a story."""
    return tuple(
        each
        for each in hidden_faults_of(airplane)
        if not each.comes_and_goes and each.kind is not HiddenKind.NOT_RESTORED
    )


def _fault(order: Order) -> Hidden:
    try:
        return Hidden(HiddenKind(str(order.get("kind"))), str(order.get("name")), str(order.get("part", "")))
    except ValueError:
        raise UsageError(f"nothing can be {order.get('kind')!r}") from None


def _words(order: Order, field: str, longest: int) -> str:
    """Words of a person, on one line."""
    words = visible(" ".join(str(order.get(field) or "").split()))
    if len(words) > longest:
        raise UsageError(f"too long; write at most {longest} letters")
    return words
