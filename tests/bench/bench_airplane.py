"""Measures the solver on an airplane of 200 loads and the endurance's Monte Carlo; prints what it finds.

Run: python tests/bench/bench_airplane.py
"""

import sys
import time
from dataclasses import replace
from datetime import date
from pathlib import Path
from random import Random

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from runner.airplane.electric.current_network import Electric  # noqa: E402
from runner.airplane.life.life_network import LifeNetwork  # noqa: E402 - the repository comes first
from runner.airplane.load.airplane_load import load_airplane  # noqa: E402
from runner.airplane.minutes.capacity import planned_conditions  # noqa: E402
from runner.airplane.minutes.chance import SAMPLES, spread_of  # noqa: E402
from runner.airplane.minutes.reckoning import demand  # noqa: E402
from runner.airplane.minutes.shedding import shedding_for  # noqa: E402
from runner.airplane.model.airplane import Airplane  # noqa: E402
from runner.airplane.model.situation import Situation  # noqa: E402
from runner.airplane.model.source import Battery, Source  # noqa: E402

LOADS = 200
STATES = 10_000
ON = date(2026, 11, 25)


def large_airplane() -> Airplane:
    """The Merlow with copies of its loads under new names and breakers, 200 in all."""
    airplane = load_airplane(ROOT / "checklists" / "airplanes" / "merlow-ml2.yaml")
    loads, breakers = dict(airplane.loads), dict(airplane.breakers)
    originals = list(airplane.loads.values())
    for number in range(LOADS - len(loads)):
        original = originals[number % len(originals)]
        name = f"{original.name} {number}"
        breakers[name] = 5.0
        feeds = tuple(replace(feed, breaker=name) for feed in original.feeds)
        loads[name] = replace(original, name=name, feeds=feeds)
    return replace(airplane, loads=loads, breakers=breakers)


def random_situations(airplane: Airplane) -> list[Situation]:
    """Different states: any position, with sources lost, breakers out, links stuck and buses shorted."""
    random = Random(1)  # noqa: S311 - test data

    def some(names: list[str], most: int) -> frozenset[str]:
        return frozenset(random.sample(names, random.randint(0, most)))

    return [
        Situation(
            position=random.choice(airplane.selector.positions),
            lost=some(list(airplane.sources), 2),
            pulled=some(list(airplane.breakers), 2),
            stuck_open=some(list(airplane.links), 1),
            stuck_closed=some(list(airplane.links), 1),
            shorted=some(list(airplane.buses), 1),
        )
        for _ in range(STATES)
    ]


def bench_solver() -> str:
    """States solved in a second, every one different."""
    airplane = large_airplane()
    network, states = LifeNetwork(airplane), random_situations(airplane)
    start, cpu = time.perf_counter(), time.process_time()
    alive = sum(len(network.solve(state).alive) for state in states)
    seconds, cpu_seconds = time.perf_counter() - start, time.process_time() - cpu
    mean = alive / len(states)
    return (
        f"solver, {len(airplane.loads)} loads (mean alive {mean:.0f}): "
        f"{len(states) / seconds:,.0f} states a second, "
        f"{len(states) / cpu_seconds:,.0f} a second of processor time"
    )


def bench_volts(*, is_overloaded: bool) -> str:
    """Volts and amperes of the same states; its sources grown with the loads, or left as they are."""
    airplane = large_airplane()
    if not is_overloaded:
        share = LOADS / len(load_airplane(ROOT / "checklists" / "airplanes" / "merlow-ml2.yaml").loads)
        airplane = replace(
            airplane, sources={name: _grown(each, share) for name, each in airplane.sources.items()}
        )
    electric, states = Electric(airplane), random_situations(airplane)[: STATES // 4]
    start, cpu = time.perf_counter(), time.process_time()
    for state in states:
        electric.solve(state)
    seconds, cpu_seconds = time.perf_counter() - start, time.process_time() - cpu
    kind = "sources far too small" if is_overloaded else "sources to match"
    return (
        f"volts, {len(airplane.loads)} loads, {kind}: {len(states) / seconds:,.0f} states a second, "
        f"{len(states) / cpu_seconds:,.0f} a second of processor time"
    )


def _grown(source: Source, share: float) -> Source:
    if isinstance(source, Battery):
        return replace(source, ampere_hours=source.ampere_hours * share)
    return replace(source, amps=source.amps * share)


def bench_chance(name: str) -> str:
    """Seconds for the Monte Carlo at its full size, and for a shedding list."""
    airplane = load_airplane(ROOT / "checklists" / "airplanes" / f"{name}.yaml")
    conditions = planned_conditions(airplane.battery, ON)
    start = time.perf_counter()
    needs = demand(airplane, airplane.endurance.positions)
    spread = spread_of(airplane.battery, conditions, needs, airplane.endurance)
    middle = time.perf_counter()
    shed = shedding_for(airplane, conditions, airplane.endurance, 60)
    end = time.perf_counter()
    return (
        f"endurance of {name}: {SAMPLES:,} samples in {(middle - start) * 1000:.0f} ms, "
        f"low case {spread.low:.1f} min; "
        f"shedding list of {len(shed.loads)} in {(end - middle) * 1000:.0f} ms"
    )


if __name__ == "__main__":
    sys.stdout.write(
        "\n".join(
            [
                bench_solver(),
                bench_volts(is_overloaded=False),
                bench_volts(is_overloaded=True),
                bench_chance("merlow-ml2"),
                bench_chance("tarn-qx83"),
                "",
            ]
        )
    )
