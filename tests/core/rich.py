"""A small invented check in which everything can happen: stops anywhere, moves, clocks of two starters."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from random import Random

from runner.checklist.format.check import Item
from runner.checklist.kind.action import Action
from runner.checklist.kind.named_state import NamedState
from runner.core.ask.phrases_now import phrases_in_force
from runner.core.effect import Append
from runner.core.event import Answered, Channel, Event, Started, Ticked
from runner.core.grid.machine import Machine
from runner.core.plan import Plan
from runner.core.record.entry import Entry
from runner.core.record.progress import Progress
from runner.core.state import FINAL, State
from runner.language.catalogue import Outcome
from runner.language.meaning import Command, Corrected, Meaning, Picked, Pulled, Stuck, Value
from tests.core.danger import VOLTS
from tests.core.sample import RESTORE, gyro, item, plan_of, response
from tests.core.test_machine_rules import happenings, meanings_of

READINGS = ("19.5", "23", "25", "25", "30", "33")
"""Under the floor, a caution, twice in order, a squawk, over the edge."""


def act(name: str, *, selects: str | None = None, is_critical: bool = False, stops: bool = False) -> Item:
    """An action that can go wrong, and mean danger."""
    danger = (response(f"{name} danger", Outcome.STOP),) if stops else ()
    answers = (response(name), response(f"{name} bad", Outcome.SQUAWK), *danger)
    return replace(item(name, Action(answers, selects), critical=is_critical), remedy="Make it safe")


LAMPS = NamedState(
    (
        response("both"),
        response("dim", Outcome.CAUTION),
        response("out", Outcome.SQUAWK),
        response("fire", Outcome.STOP),
    )
)
PLAN = plan_of(
    act("fit"),
    act("reserve", selects="reserve", is_critical=True, stops=True),
    act("inverter"),
    gyro("left", 10, 20),
    gyro("aux", 10, 20, starts_on="inverter"),
    replace(act("heater on"), moves=("heater",)),
    replace(item("lamps", LAMPS), remedy="Make it safe"),
    replace(act("lights dim", stops=True), moves=("dimmer",)),
    replace(item("volts", VOLTS), remedy="Charge the battery"),
    replace(act("lights bright", is_critical=True, stops=True), returns=("dimmer",)),
    replace(act("heater off", is_critical=True), returns=("heater",)),
    RESTORE,
    replace(item("rest", VOLTS), remedy="Charge the battery"),
)


def walk(plan: Plan, seed: int, steps: int, look: Callable[[Progress], None] = lambda _: None) -> None:
    """Random events, most of them in force; the program stops now and then, and may lose its last entries.

    `look` is shown the progress after each.
    """
    luck = Random(seed)  # noqa: S311 - a walk for a test
    machine, entries, at = Machine(plan), list[Entry](), 0.0
    for _ in range(steps):
        at += luck.choice((0.0, 0.4, 3.0, 20.0))
        if len(entries) > 4 and luck.random() < 0.02:
            entries = entries[: len(entries) - luck.choice((0, 0, 1, 2))]
            machine = Machine(plan, entries)
            event: Event = Started(at, is_set_back=luck.random() < 0.4)
        else:
            event = _event(luck, machine, at)
        _, effects = machine.handle(event)
        entries += [effect.entry for effect in effects if isinstance(effect, Append)]
        look(machine.progress)
        if machine.state in FINAL and luck.random() < 0.5:
            machine, entries = Machine(plan), []


def _event(luck: Random, machine: Machine, at: float) -> Event:
    if machine.state is State.READY or luck.random() < 0.1:
        return luck.choice([*happenings(at, machine.turn), Ticked(at)])
    in_force = list(dict.fromkeys(phrases_in_force(machine.progress).meanings.values()))
    meaning = luck.choice(meanings_of(machine.progress.plan))
    if in_force and luck.random() < 0.9:
        meaning = _one_of(luck, in_force)
    turn = machine.turn - luck.choice((0, 0, 0, 0, 0, 1))
    return Answered(at, turn, meaning, "x", 0.7, at, Channel.VOICE)


def _one_of(luck: Random, in_force: list[Meaning]) -> Meaning:
    """Three in four answer the item, so that the run gets on; few end a clock, so that it is waited for."""
    own = [each for each in in_force if not isinstance(each, (Command, Corrected, Pulled, Stuck))]
    anew = [each for each in in_force if isinstance(each, Corrected)]
    if anew and luck.random() < 0.1:
        answer = _of_a_few(luck, luck.choice(anew).answer)
        return Corrected(answer) if isinstance(answer, Picked | Value) else answer
    in_force = [each for each in in_force if not isinstance(each, Corrected)]
    meaning = luck.choice(own if own and luck.random() < 0.75 else in_force)
    if isinstance(meaning, (Pulled, Stuck)) and luck.random() < 0.6:
        meaning = luck.choice(in_force)
    return _of_a_few(luck, meaning)


def _of_a_few(luck: Random, meaning: Meaning) -> Meaning:
    """A value is one of those that mean different things."""
    return Value(meaning.item, Decimal(luck.choice(READINGS))) if isinstance(meaning, Value) else meaning
