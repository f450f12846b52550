import os
import random
import signal
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from runner.core.grid.machine import Machine
from runner.core.record.entry import ClockEnded, ClockStarted, Entry
from runner.core.record.fold import fold
from runner.core.state import State
from runner.logbook.invented.invention import invented_run
from runner.logbook.invented.synthetic import Recipe, Story, mornings
from runner.logbook.list.run_list import unfinished
from runner.logbook.record.run_store import Logbook
from runner.session.parts import Parts, load_parts, recorded_parts
from tests.logbook.sample import STARTED_AT

RECIPE = Recipe(Story.NORMAL_WEAR, seed=1, runs=1, started_at=STARTED_AT)
SPIN_UPS = {"left attitude": 61.25, "left compass": 93.5}


@pytest.fixture(scope="module")
def parts() -> Parts:
    """The invented twin jet's check."""
    return load_parts("merlow-reserve")


@pytest.fixture(scope="module")
def entries(parts: Parts) -> tuple[Entry, ...]:
    """A whole run with two gyros spinning up at once and a low reading confirmed."""
    morning = next(mornings(parts.check, RECIPE))
    assert morning.spin_up_seconds.keys() == SPIN_UPS.keys()
    readings = {**morning.readings, "volts on reserve": 21.4}
    slow = replace(morning, spin_up_seconds=SPIN_UPS, readings=readings)
    return invented_run(parts.check, slow, random.Random(1))


def _append_and_die(folder: Path, parts: Parts, entries: tuple[Entry, ...]) -> None:
    """In a child process: append, then be killed by SIGKILL with the run open."""
    child = os.fork()
    if child == 0:
        handle = Logbook.open(folder).create_run(
            check=parts.check.name,
            check_text=parts.check_text,
            airplane=parts.check.airplane,
            airplane_text=parts.airplane_text,
            registration=parts.registration,
            pilot="A. Invented",
            started_at=STARTED_AT,
            series=parts.series,
            is_invented=True,
        )
        for entry in entries:
            handle.append(entry)
        os.kill(os.getpid(), signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    assert os.WTERMSIG(status) == signal.SIGKILL


@pytest.mark.skipif(sys.platform == "win32", reason="fork and SIGKILL are POSIX")
def test_after_a_kill_at_any_entry_the_machine_goes_on_with_its_clocks_right(
    tmp_path: Path, parts: Parts, entries: tuple[Entry, ...]
) -> None:
    """For each length of the record: the same progress and clocks, from the record's own texts."""
    for count in range(1, len(entries)):
        folder = tmp_path / str(count)
        _append_and_die(folder, parts, entries[:count])
        with Logbook.open(folder) as logbook:
            (stopped,) = unfinished(logbook)
            recorded = recorded_parts(logbook, stopped.run)
            machine = Machine(recorded.plan, logbook.entries(stopped.run))
            assert machine.progress == fold(recorded.plan, entries[:count])
            for name, started_at in _open_clocks(entries[:count]).items():
                assert machine.progress.clocks[name].started_at == started_at
            assert machine.state is not State.COMPLETE
            with logbook.resume(stopped.run) as handle:
                for entry in entries[count:]:
                    handle.append(entry)
            assert Machine(recorded.plan, logbook.entries(stopped.run)).state is State.COMPLETE


def _open_clocks(entries: tuple[Entry, ...]) -> dict[str, float]:
    clocks: dict[str, float] = {}
    for entry in entries:
        if isinstance(entry, ClockStarted):
            clocks[entry.item] = entry.at
        elif isinstance(entry, ClockEnded):
            del clocks[entry.item]
    return clocks
