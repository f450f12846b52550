"""What one step of the machine costs: `python tests/bench/bench_machine.py`.

Microseconds an answer in checks of 20, 400 and 2,000 items and in a chain of `when`; how often the state and the
item in force are worked out in a step; loading a shipped check with and without libyaml; and how often a
report reads a run's header and its check. Times are the best of three.
"""

import statistics
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import CodeType, FrameType

from runner.checklist.format.check import (
    Action,
    Call,
    Check,
    Choice,
    Condition,
    Item,
    NamedState,
    Outcome,
    Response,
    Section,
    SpinUp,
)
from runner.core.ask.agenda import item_in_force
from runner.core.ask.outlook import look_out
from runner.core.event import Answered, Channel, Started
from runner.core.grid.machine import Machine
from runner.core.plan import Plan
from runner.core.state import FINAL
from runner.errors import Place
from runner.language.meaning import Command, Meaning, Picked, Pulled, Word

PLACE = Place(Path("bench.yaml"), 1, 1)
GOOD, BAD = Response("good", ("good",)), Response("bad", ("bad",), Outcome.SQUAWK)


def mixed(count: int) -> Check:
    """Of twenty items one is a choice, two hang on it, one moves a switch, one returns it, one is a gyro."""
    return _check([_mixed(number) for number in range(count - 1)])


def chain(count: int) -> Check:
    """Every item applies where the one in front of it was answered well."""
    first = Item("0", "Item 0", NamedState((GOOD, BAD)), "why", PLACE)
    rest = (
        Item(
            str(number),
            f"Item {number}",
            first.body,
            "why",
            PLACE,
            when=Condition(str(number - 1), ("good",)),
        )
        for number in range(1, count - 1)
    )
    return _check([first, *rest])


def _mixed(number: int) -> Item:
    name, block = str(number), number // 20 * 20
    made = {
        2: lambda: Item(name, f"Choice {name}", Choice((GOOD, BAD)), "why", PLACE),
        4: lambda: Item(name, f"Move {name}", Action((GOOD,)), "why", PLACE, moves=(f"s{block}",)),
        6: lambda: Item(name, f"Return {name}", Action((GOOD,)), "why", PLACE, returns=(f"s{block}",)),
        8: lambda: Item(name, f"Gyro {name}", _gyro(number), "why", PLACE),
    }
    hangs = (
        Condition(str(block + 2), ("good" if number % 20 == 10 else "bad",))
        if number % 20 in (10, 12)
        else None
    )
    plain = Item(name, f"Item {name}", NamedState((GOOD, BAD)), "why", PLACE, when=hangs)
    return made[number % 20]() if number % 20 in made else plain


def _gyro(number: int) -> SpinUp:
    pulled, stuck = (
        Response("pulled", (f"pulled {number}",)),
        Response("stuck", (f"stuck {number}",), Outcome.SQUAWK),
    )
    return SpinUp(f"gyro {number}", str(number - 1), pulled, stuck, 30.0, 60.0)


def _check(items: list[Item]) -> Check:
    call = Item("call", "Call", Call((GOOD,)), "why", PLACE)
    return Check("bench", "Bench", "bench", ("Ground only",), (Section("All", (*items, call)),))


def answer_all(check: Check, after: Callable[[Machine], object] = lambda machine: None) -> list[float]:
    """Seconds of each step of a whole run; `after` is called between the steps, untimed."""
    machine = Machine(Plan(check, "normal", {}, 0.0, 0.0))
    at, times = 1000.0, []
    machine.handle(Started(at))
    while machine.state not in FINAL:
        at += 3.0
        event = Answered(at, machine.turn, _meaning(machine), "said", 0.9, at - 0.5, Channel.VOICE)
        began = time.process_time()
        machine.handle(event)
        times.append(time.process_time() - began)
        after(machine)
    return times


def _meaning(machine: Machine) -> Meaning:
    progress = machine.progress
    if not progress.are_cautions_taken:
        return Command(Word.CONTINUE)
    if progress.open_clocks:
        return Pulled(progress.open_clocks[0].item)
    item = item_in_force(progress)
    assert item is not None
    return Picked(item.name, "good")


def microseconds(check: Check) -> str:
    """Mean and slowest tenth of an answer, and a look at the run as a screen takes one."""
    runs = [answer_all(check) for _ in range(3)]
    best = min(runs, key=sum)
    late = best[-max(len(best) // 10, 1) :]
    looks: list[float] = []
    answer_all(check, lambda machine: looks.append(_timed(lambda: look_out(machine.progress))))
    means = (statistics.mean(times) * 1e6 for times in (best, late, looks))
    return "  ".join(f"{mean:8.0f}" for mean in means)


def _timed(work: Callable[[], object]) -> float:
    began = time.process_time()
    work()
    return time.process_time() - began


def main() -> None:
    """Print all of it."""
    print("microseconds           answer  last 1/10   look_out")
    for title, check in {
        "20 items": mixed(20),
        "400 items": mixed(400),
        "2000 items": mixed(2000),
        "400 `when` in a row": chain(400),
    }.items():
        print(f"{title:20} {microseconds(check)}", flush=True)


if __name__ == "__main__":
    main()
