"""A small invented check with what can stop it and what it moves, for the tests of the core."""

from dataclasses import replace
from decimal import Decimal

from runner.checklist.format.check import Check, Item, Section
from runner.checklist.kind.action import Action
from runner.checklist.kind.named_state import NamedState
from runner.checklist.kind.reading import Reading
from runner.core.plan import Plan
from runner.language.catalogue import Outcome, Unit, Word
from tests.core.sample import CALL, RESTORE, Run, band, gyro, item, response

VOLTS = Reading(
    Unit.VOLTS,
    Decimal("0.1"),
    band("24", "28"),
    band("22", "29"),
    band("10", "34"),
    stop_below=Decimal(20),
    stop_above=Decimal(32),
)
AREA = replace(
    item(
        "area",
        NamedState(
            (
                response("clear", key="c"),
                response("somebody there", Outcome.STOP, "s"),
                response("wet", Outcome.CAUTION, "w"),
                response("littered", Outcome.SQUAWK, "l"),
            )
        ),
    ),
    remedy="Wait until they are away",
)


def moving(name: str, *switches: str) -> Item:
    """An action that moves these."""
    return replace(item(name, Action((response(name),))), moves=switches)


def returning(name: str, *switches: str) -> Item:
    """An action that puts these back."""
    answers = (response(name), response(f"{name} jammed", Outcome.SQUAWK))
    return replace(item(name, Action(answers), critical=True), returns=switches)


CHECK = Check(
    name="danger",
    title="Sample check with stops",
    airplane="sample",
    cautions=("Ground use only",),
    sections=(
        Section(
            "All",
            (
                AREA,
                item(
                    "reserve",
                    Action((response("reserve"), response("dark", Outcome.SQUAWK)), "reserve"),
                    critical=True,
                ),
                gyro("left", 30, 60),
                moving("heater on", "heater"),
                moving("lights dim", "dimmer"),
                replace(item("volts", VOLTS, critical=True), remedy="Charge the battery"),
                returning("lights bright", "dimmer"),
                returning("heater off", "heater"),
                RESTORE,
                replace(item("rest", VOLTS), remedy="Charge the battery"),
                CALL,
            ),
        ),
    ),
)

PLAN = Plan(CHECK, "normal", {"normal": 4.0, "reserve": 36.0}, usable_ampere_hours=20.0, warn_share=0.1)


def begun() -> Run:
    """A run whose first item, the area, is asked."""
    return Run(PLAN).start().say(Word.CONTINUE)


def dimmed() -> Run:
    """A run on the reserve with its heater on and its lights dimmed; the volts are asked."""
    run = begun().pick("area", "clear").pick("reserve", "reserve")
    return run.pick("heater on", "heater on").pick("lights dim", "lights dim")
