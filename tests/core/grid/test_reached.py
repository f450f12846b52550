"""The grid's targets are true: none is missing, or `Machine.handle` raises, and none is named for nothing."""

from collections.abc import Iterator
from decimal import Decimal

import pytest

from runner.core.event import (
    MicBack,
    MicLost,
    Port,
    PortBack,
    PortFailed,
    RoomGrewLoud,
    RoomGrewQuiet,
    Started,
)
from runner.core.grid import table
from runner.core.grid.machine import Machine
from runner.core.state import State
from runner.language.catalogue import Word
from runner.language.meaning import Corrected, Value
from runner.prove.walk import walk
from tests.core import rich, sample
from tests.core.danger import VOLTS
from tests.core.grid.reach import Watch, named_targets
from tests.core.sample import RESTORE, Run, completed, gyro, item, plan_of
from tests.prove import small

RESERVE = rich.act("reserve", selects="reserve", is_critical=True)
CLOCK_AND_VOLTS = plan_of(RESERVE, gyro("left", 30, 60), item("volts", VOLTS), RESTORE)
"""The volts are the last that can be asked while the gyro spins up."""


def on_reserve() -> Run:
    """The volts are asked, the clock runs."""
    return Run(CLOCK_AND_VOLTS).start().say(Word.CONTINUE).pick("reserve", "reserve")


@pytest.fixture
def watch(monkeypatch: pytest.MonkeyPatch) -> Watch:
    """Every machine of the test is watched."""
    watch = Watch()
    monkeypatch.setattr(table, "step", watch.step)
    monkeypatch.setattr(Machine, "handle", watch.handler())
    return watch


def rare_ways() -> Iterator[State]:
    """What random walks seldom come to."""
    yield on_reserve().read("25").state
    yield on_reserve().read("23").read("25").state
    yield on_reserve().read("33").read("25").state
    plan = plan_of(RESERVE, gyro("left", 30, 60), RESTORE)
    powered = Run(plan).start().say(Word.CONTINUE).pick("reserve", "reserve")
    cut_off = Run(plan, powered.entries[:-1])
    assert cut_off.state is State.ASKING
    yield cut_off.start().state
    completed().play()
    for number, state in (
        ("23", State.CONFIRMING),
        ("33", State.STOPPED),
        ("19.5", State.RESTORING),
    ):
        run = on_reserve().read("25").mean(Corrected(Value("volts", Decimal(number))))
        assert run.state is state
    for run in (on_reserve().say(Word.NOTE), on_reserve().say(Word.ABANDON).say(Word.AFFIRM)):
        state = run.state
        assert state in (State.NOTING, State.RESTORING)
        run.take(PortFailed(run.at, Port.SCREEN, "no answer")).take(PortBack(run.at, Port.SCREEN))
        assert run.state is state
    for run in (
        on_reserve().say(Word.STANDBY),
        on_reserve().read("25"),
        on_reserve().read("33"),
        on_reserve().say(Word.ABANDON).say(Word.AFFIRM),
    ):
        state = run.state
        for lost, back in (
            (RoomGrewLoud(run.at, -20.0), RoomGrewQuiet(run.at, -50.0)),
            (MicLost(run.at), MicBack(run.at)),
            (PortFailed(run.at, Port.EAR, "no answer"), PortBack(run.at, Port.EAR)),
        ):
            assert run.take(lost).take(back).state is state
    run.take(MicLost(run.at)).say(Word.NOTE)
    assert (run.state, run.said) == (State.NOTING, "Type the note.")


def test_every_target_that_the_grid_names_is_reached(watch: Watch) -> None:
    """By random walks, by the prover's walk of every moment of a check, and by a few rare ways."""
    for seed in range(4):
        rich.walk(rich.PLAN, seed, 5000)
        rich.walk(sample.PLAN, seed, 2500)
    walk(small.plan_of(*small.ALL))
    assert set(rare_ways()) == {State.WAITING}
    assert sorted(map(str, named_targets() - watch.reached)) == []


def test_a_target_that_is_never_reached_is_told(watch: Watch) -> None:
    """The watch itself can fail: what nobody did it has not seen."""
    Run(sample.PLAN).start()
    assert watch.reached == {(Started.__name__, State.READY, State.BRIEFING)}
    assert len(named_targets() - watch.reached) > 200


def test_continue_after_a_stop_waits_for_a_clock_that_another_item_started() -> None:
    """What moves the selector is asked again, and nothing may be open for that."""
    run = Run(rich.PLAN).start().say(Word.CONTINUE).pick("fit", "fit").pick("reserve", "reserve")
    run.pick("inverter", "inverter").pick("heater on", "heater on").pick("lamps", "both")
    run.pick("lights dim", "lights dim").read("19.5").pick("lights bright", "lights bright")
    run.pick("heater off", "heater off").pick("normal", "normal")
    assert run.state is State.STOPPED
    assert run.say(Word.CONTINUE).state is State.WAITING
    assert run.said == "Continuing. Waiting for aux gyro."
