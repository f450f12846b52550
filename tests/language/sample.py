"""A small invented check for the language tests, and ways to build its items."""

from decimal import Decimal
from pathlib import Path

from runner.checklist.format.check import Check, Item, Response, Section
from runner.checklist.kind.action import Action
from runner.checklist.kind.call import Call
from runner.checklist.kind.choice import Choice
from runner.checklist.kind.named_state import NamedState
from runner.checklist.kind.numbered import Band
from runner.checklist.kind.reading import Reading
from runner.checklist.kind.spin_up import SpinUp
from runner.errors import Place
from runner.language.catalogue import Outcome, Unit

PLACE = Place(Path("sample.yaml"), 1, 1)


def band(low: str, high: str) -> Band:
    """A band from written numbers."""
    return Band(Decimal(low), Decimal(high))


def reading(low: str, high: str, resolution: str = "0.1", unit: Unit = Unit.VOLTS) -> Reading:
    """A reading with this plausible band; its pass band is the same."""
    return Reading(unit, Decimal(resolution), band(low, high), None, band(low, high))


def response(label: str, *phrases: str, outcome: Outcome = Outcome.PASS) -> Response:
    """A response, said as its label unless phrases are given."""
    return Response(label, phrases or (label,), outcome)


def action(name: str, *responses: Response) -> Item:
    """An action with these answers."""
    return Item(name, f"{name}?", Action(responses), "sample", PLACE)


def gyro(name: str, pulled: str, stuck: str, starts_on: str = "reserve") -> Item:
    """A spin-up item."""
    body = SpinUp(name, starts_on, response("pulled", pulled), response("stuck", stuck), 30.0, 60.0)
    return Item(name, f"{name}?", body, "sample", PLACE)


RESERVE = action("reserve", response("reserve"))
LEFT = gyro("left gyro", "left gyro, flag pulled", "left gyro stuck")
RIGHT = gyro("right gyro", "right gyro, flag pulled", "right gyro stuck")
LAMPS = Item(
    "lamps",
    "lamps?",
    NamedState(
        (
            response("both"),
            response("left out", outcome=Outcome.SQUAWK),
            response("right out", outcome=Outcome.SQUAWK),
        )
    ),
    "sample",
    PLACE,
)
VOLTS = Item("volts", "volts?", reading("20", "34"), "sample", PLACE)
FIT = Item("fit", "second radio fitted?", Choice((response("affirm"), response("negative"))), "sample", PLACE)
DONE = Item("done", "check?", Call((response("check complete"),)), "sample", PLACE)


def check(*items: Item) -> Check:
    """A check of one section."""
    return Check("sample", "Sample", "sample", (), (Section("All", items),))


SAMPLE = check(RESERVE, LEFT, RIGHT, LAMPS, VOLTS, FIT, DONE)
