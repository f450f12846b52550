"""How fast the screen starts and how little it costs: `python tests/bench/bench_screen.py`.

Prints seconds from the start of Python to the first view drawn, and the share of one core while a view
with two clocks is posted each second, and while the level is posted ten times a second as well.
Drawn without a terminal (Textual's headless driver), so that writing to one is not counted.
"""

import asyncio
import json
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import replace

from runner.screen.full.screen_app import EyesoutApp
from runner.screen.view import ClockView, View
from tests.screen.sample import READING

SECONDS = 10.0
START = """
import asyncio
from runner.screen.full.screen_app import EyesoutApp
from tests.screen.sample import READING
async def draw():
    app = EyesoutApp(READING, print)
    async with app.run_test(size=(120, 34)) as pilot:
        await pilot.pause()
asyncio.run(draw())
"""


def started_in() -> float:
    """Seconds from nothing to a drawn view and out again, best of five."""
    times = []
    for _ in range(5):
        begin = time.perf_counter()
        subprocess.run([sys.executable, "-c", START], check=True)
        times.append(time.perf_counter() - begin)
    return min(times)


async def core_share(views_a_second: int, size: tuple[int, int]) -> float:
    """Processor seconds a second while views arrive at this rate."""
    app = EyesoutApp(READING, lambda _: None)
    stop = asyncio.Event()
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        begin, used = time.perf_counter(), time.process_time()
        for step in range(int(SECONDS * views_a_second)):
            app.post_view(_moved(READING, step / views_a_second))
            await _tick(stop, begin + (step + 1) / views_a_second)
        return (time.process_time() - used) / (time.perf_counter() - begin)


def _moved(view: View, seconds: float) -> View:
    level = -40.0 + seconds % 1 * 20
    clocks: Sequence[ClockView] = [
        replace(clock, elapsed_seconds=clock.elapsed_seconds + seconds) for clock in view.clocks
    ]
    sound = replace(view.sound, dbfs=level)
    return replace(view, now=view.now + seconds, clocks=tuple(clocks), sound=sound)


async def _tick(stop: asyncio.Event, until: float) -> None:
    try:
        await asyncio.wait_for(stop.wait(), max(0.0, until - time.perf_counter()))
    except TimeoutError:
        return


def main() -> None:
    """Measure and print one JSON line."""
    figures = {
        "start_seconds": round(started_in(), 3),
        "core_share_1_view_a_second": round(asyncio.run(core_share(1, (120, 34))), 4),
        "core_share_10_views_a_second": round(asyncio.run(core_share(10, (120, 34))), 4),
    }
    sys.stdout.write(json.dumps(figures) + "\n")


if __name__ == "__main__":
    main()
