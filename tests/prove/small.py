"""Small invented checks for the proofs: one of each role, few enough to walk in a second."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

from runner.checklist.format.check import Body, Check, Item, Response, Section
from runner.checklist.kind.action import Action
from runner.checklist.kind.call import Call
from runner.checklist.kind.named_state import NamedState
from runner.checklist.kind.numbered import Band
from runner.checklist.kind.reading import Reading
from runner.checklist.kind.spin_up import SpinUp
from runner.core.plan import Plan
from runner.errors import Place
from runner.language.catalogue import Outcome, Unit

PLACE = Place(Path("small.yaml"), 1, 1)
VOLTS = Reading(
    Unit.VOLTS,
    Decimal(1),
    Band(Decimal(24), Decimal(26)),
    Band(Decimal(22), Decimal(29)),
    Band(Decimal(16), Decimal(32)),
    stop_below=Decimal(20),
)


def answer(label: str, outcome: Outcome = Outcome.PASS) -> Response:
    """An answer that is said as its label."""
    return Response(label, (label,), outcome, "")


def item(name: str, body: Body) -> Item:
    """An item whose challenge is its name."""
    return Item(name, name, body, "reason", PLACE)


PEOPLE = replace(
    item("people", NamedState((answer("nobody"), answer("somebody", Outcome.STOP)))),
    critical=True,
    remedy="Send them away",
)
RESERVE = replace(item("reserve", Action((answer("reserve on"),), "reserve")), critical=True)
LOADED = replace(item("volts", VOLTS), critical=True, remedy="Charge it")
GYRO = item("gyro", SpinUp("gyro", "reserve", answer("pulled"), answer("stuck", Outcome.SQUAWK), 30.0, 60.0))
LAMPS = replace(
    item("lamps", NamedState((answer("both lit"), answer("left out", Outcome.SQUAWK)))), moves=("dimmer",)
)
DIM = replace(item("dim", Action((answer("dimmer down"),))), returns=("dimmer",), critical=True)
BACK = replace(item("back", Action((answer("selector off"),), "off")), restores=True, critical=True)
CALL = item("call", Call((answer("check complete"),)))
ALL = (PEOPLE, RESERVE, LOADED, GYRO, LAMPS, DIM, BACK, CALL)


def plan_of(*items: Item) -> Plan:
    """A plan for a check of these items."""
    check = Check("small", "Small check", "small", ("Ground only",), (Section("All", items),))
    return Plan(check, "off", {}, usable_ampere_hours=0.0, warn_share=0.0)
