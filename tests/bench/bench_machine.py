"""What one step of the machine costs: `python tests/bench/bench_machine.py`.

Microseconds an answer in checks of 20, 400 and 2,000 items and in a chain of `when`; how often a step works
out the state and the item in force; loading a shipped check with and without libyaml; and how often a report
reads a run's header and its check. Times are processor time, the best of three runs.
"""

import statistics
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from itertools import count
from pathlib import Path
from typing import Any

import pytest
import yaml

from runner import document
from runner.checklist.format.check import Body, Check, Condition, Item, Response, Section
from runner.checklist.format.check_load import load_check, parse_check
from runner.checklist.kind.action import Action
from runner.checklist.kind.call import Call
from runner.checklist.kind.choice import Choice
from runner.checklist.kind.named_state import NamedState
from runner.checklist.kind.spin_up import SpinUp
from runner.command import report
from runner.core.ask.agenda import item_in_force, state_of
from runner.core.ask.outlook import outlook_of
from runner.core.event import Answered, Channel, Event, Started
from runner.core.grid.machine import Machine
from runner.core.plan import Plan
from runner.core.state import FINAL
from runner.errors import Place
from runner.language.catalogue import Outcome, Word
from runner.language.meaning import Command, Meaning, Picked, Pulled
from runner.logbook.record.header import read_header
from runner.logbook.record.run_store import Logbook
from runner.place import data_folder
from tests.command.records import asked
from tests.core.calls import counted
from tests.report.run_sample import write_busy_run, write_past

PLACE = Place(Path("bench.yaml"), 1, 1)
GOOD, BAD = Response("good", ("good",)), Response("bad", ("bad",), Outcome.SQUAWK)
PLAIN = NamedState((GOOD, BAD))


def mixed(count: int, salt: str = "") -> Check:
    """Of twenty items one is a choice, two hang on it, one moves a switch, one returns it, one is a gyro.

    The names begin with `salt`, so that no table of phrases is known from a check before.
    """
    return _check([_mixed(salt, number) for number in range(count - 1)])


def chain(count: int) -> Check:
    """Every item applies where the one in front of it was answered well."""
    hangs = (None, *(Condition(str(number), ("good",)) for number in range(count - 2)))
    return _check([_item(str(number), PLAIN, when=when) for number, when in enumerate(hangs)])


def _mixed(salt: str, number: int) -> Item:
    name, block, place = f"{salt}{number}", f"{salt}{number // 20 * 20 + 2}", number % 20
    match place:
        case 2:
            return _item(name, Choice((GOOD, BAD)))
        case 4:
            return _item(name, Action((GOOD,)), moves=(block,))
        case 6:
            return _item(name, Action((GOOD,)), returns=(block,))
        case 8:
            return _item(name, _gyro(name, f"{salt}{number - 1}"))
        case 10 | 12:
            return _item(name, PLAIN, when=Condition(block, ("good",) if place == 10 else ("bad",)))
    return _item(name, PLAIN)


def _item(name: str, body: Body, **marks: Any) -> Item:
    return Item(name, f"Item {name}", body, "why", PLACE, **marks)


def _gyro(name: str, starts_on: str) -> SpinUp:
    pulled = Response("pulled", (f"pulled {name}",))
    stuck = Response("stuck", (f"stuck {name}",), Outcome.SQUAWK)
    return SpinUp(f"gyro {name}", starts_on, pulled, stuck, 30.0, 60.0)


def _check(items: list[Item]) -> Check:
    call = _item("call", Call((GOOD,)))
    return Check("bench", "Bench", "bench", ("Ground only",), (Section("All", (*items, call)),))


def answer_all(check: Check, after: Callable[[Machine], object] = id) -> list[float]:
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


def microseconds(make: Callable[[], Check]) -> str:
    """An answer, one of the last tenth, and a look at the run as a screen takes one; each check is new."""
    runs = [answer_all(make()) for _ in range(3)]
    best = min(runs, key=sum)
    late = best[-max(len(best) // 10, 1) :]
    looks: list[float] = []
    answer_all(make(), lambda machine: looks.append(_timed(lambda: outlook_of(machine.progress))))
    means = (statistics.mean(times) * 1e6 for times in (best, late, looks))
    return "  ".join(f"{mean:9.0f}" for mean in means)


def _timed(work: Callable[[], object]) -> float:
    began = time.process_time()
    work()
    return time.process_time() - began


def step_counts() -> None:
    """The most and the mean that a step of a run of 400 items works out anew."""
    machine_handle = Machine.handle
    counts: list[Counter[str]] = []

    def counted_handle(machine: Machine, event: Event) -> object:
        with counted(state_of, item_in_force) as calls:
            step = machine_handle(machine, event)
        counts.append(calls)
        return step

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Machine, "handle", counted_handle)
        answer_all(mixed(400))
    for name in ("state_of", "item_in_force"):
        found = [each[name] for each in counts]
        print(f"{name} in a step: mean {statistics.mean(found):.2f}, most {max(found)}")


def loading() -> None:
    """Milliseconds to read the shipped Merlow check, with and without libyaml."""
    path = data_folder("checklists") / "merlow-reserve.yaml"
    for title, loader in (("with", document.FAST), ("without", yaml.BaseLoader)):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(document, "FAST", loader)
            best = min(_timed(lambda: load_check(path)) for _ in range(5))
        print(f"loading {path.name} {title} libyaml: {best * 1e3:.1f} ms")


def report_reads() -> None:
    """How often `eyesout report` of a run reads a run's header, and parses a check."""
    with tempfile.TemporaryDirectory() as folder:
        with Logbook.open(Path(folder)) as logbook:
            write_past(logbook, 3)
            run = write_busy_run(logbook)
        with counted(read_header, parse_check) as calls:
            asked(report, "--logbook", folder, "--json", run)
    print(f"a report of a run: header read {calls['read_header']}, check read {calls['parse_check']}")


def main() -> None:
    """Print all of it."""
    print("microseconds              answer  last 1/10   outlook_of")
    names = count(1)
    for title, make in {
        "20 items": lambda: mixed(20, f"{next(names)} "),
        "400 items": lambda: mixed(400, f"{next(names)} "),
        "2000 items": lambda: mixed(2000, f"{next(names)} "),
        "400 `when` in a row": lambda: chain(400),
    }.items():
        print(f"{title:20} {microseconds(make)}", flush=True)
    step_counts()
    loading()
    report_reads()


if __name__ == "__main__":
    main()
