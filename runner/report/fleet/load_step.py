"""How many amperes more a battery gives at the second of two volt readings than at the first, run by run.

By the load analysis in the airplane file, not measured: a load with a switch counts once that was moved.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from runner.airplane.electric.current_network import Electric
from runner.airplane.load.airplane_load import parse_airplane
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import on_battery
from runner.airplane.model.wiring import Phase
from runner.checklist.format.check import Check
from runner.checklist.format.check_load import parse_check
from runner.checklist.lint.branch import branches
from runner.checklist.lint.claim import steps
from runner.errors import FileError
from runner.logbook.record.header import RunHeader
from runner.logbook.record.record import header_of, snapshot_text
from runner.logbook.record.record_shelf import Shelf
from runner.report.fleet.voltage import VoltagePair, voltage_pair


def steps_by_run(
    shelf: Shelf, runs: Iterable[str], pair: VoltagePair, known: Mapping[str, RunHeader]
) -> Mapping[str, float]:
    """Amperes for each run whose own check has this pair, by the files that it was made with.

    `known` are headers that the caller has read already, by run.
    """
    headers = {run: known.get(run) or header_of(shelf, run) for run in runs}
    first = {(each.check_sha256, each.airplane_sha256): each for each in headers.values()}
    amps_by = {key: _step(shelf, header, pair) for key, header in first.items()}
    found = {run: amps_by[each.check_sha256, each.airplane_sha256] for run, each in headers.items()}
    return {run: amps for run, amps in found.items() if amps is not None}


def _step(shelf: Shelf, header: RunHeader, pair: VoltagePair) -> float | None:
    texts = (snapshot_text(shelf, each) for each in (header.check_sha256, header.airplane_sha256))
    try:
        return _step_of(*texts, pair)
    except FileError:
        return None  # an eyesout of another version wrote it


@lru_cache(maxsize=8)
def _step_of(check_text: str, airplane_text: str, pair: VoltagePair) -> float | None:
    check = parse_check(check_text, Path("check.yaml"), is_recorded=True)
    if voltage_pair(check) != pair:
        return None
    return load_step(check, parse_airplane(airplane_text, Path("airplane.yaml")), pair)


def load_step(check: Check, airplane: Airplane, pair: VoltagePair) -> float:
    """Amperes more at the pair's second reading than at its first."""
    amps = dict(_amps_at(check, airplane, (pair.before, pair.on_reserve)))
    return amps[pair.on_reserve] - amps[pair.before]


def _amps_at(check: Check, airplane: Airplane, names: tuple[str, ...]) -> Iterator[tuple[str, float]]:
    """What the battery gives at each of these items, selector and switches standing as they were moved."""
    way, moved = next(iter(branches(check))), frozenset[str]()
    for step in steps(check, way, airplane.selector.parked):
        moved = moved.union(step.item.moves).difference(step.item.returns)
        if step.item.name in names:
            yield step.item.name, _battery_amps(airplane, step.after, moved)


def _battery_amps(airplane: Airplane, position: str, moved: frozenset[str]) -> float:
    loads = {
        name: load if load.switch is None or load.switch in moved else replace(load, amps=0.0)
        for name, load in airplane.loads.items()
    }
    flow = Electric(replace(airplane, loads=loads), Phase.CHECK).solve(on_battery(airplane, position))
    return flow.source_amps[airplane.battery.name]
