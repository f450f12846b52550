"""Start-up, memory and idle processor time of `eyesout run`, and the ear's real-time factor on the demo.

`python tests/bench/bench_run.py`: each figure comes from a child of its own, by keys, without sound.
"""

import json
import os
import pty
import resource
import select
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

START = b"Cautions first"
IDLE_SECONDS = 10.0


def start(folder: Path) -> tuple[float, subprocess.Popen[bytes], int]:
    """Seconds from the command to the first view with the cautions, and the run that stands there."""
    ours, theirs = pty.openpty()
    began = time.perf_counter()
    command = [sys.executable, "-m", "runner.cli", "run", "merlow-reserve", "--keys", "--plain"]
    child = subprocess.Popen([*command, "--logbook", str(folder)], stdin=theirs, stdout=theirs, stderr=theirs)
    os.close(theirs)
    seen = b""
    while START not in seen:
        select.select([ours], [], [])
        seen += os.read(ours, 65536)
    return time.perf_counter() - began, child, ours


def processor_seconds(pid: int) -> float:
    """User and system time of a process so far."""
    fields = Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def resident_megabytes(pid: int) -> float:
    """Memory that a process holds."""
    pages = int(Path(f"/proc/{pid}/statm").read_text(encoding="ascii").split()[1])
    return pages * resource.getpagesize() / 1e6


def by_keys(folder: Path) -> None:
    """Start five times; the last one is watched while nothing happens."""
    times = []
    for number in range(5):
        seconds, child, terminal = start(folder / str(number))
        times.append(seconds)
        if number == 4:
            before = processor_seconds(child.pid)
            select.select([], [], [], IDLE_SECONDS)
            share = (processor_seconds(child.pid) - before) / IDLE_SECONDS
            memory = resident_megabytes(child.pid)
            print(f"by keys, idle: {100 * share:.1f} % of a core, {memory:.0f} MB resident")
        child.kill()
        child.wait()
        os.close(terminal)
    print(f"start to first view by keys: median {statistics.median(times):.2f} s, worst {max(times):.2f} s")


def demo(folder: Path) -> None:
    """The demo twice: the second time its prompts come out of the cache."""
    for name in ("first", "second"):
        command = [sys.executable, "-m", "runner.cli", "demo", "--json", "--folder", str(folder / name)]
        done = subprocess.run(command, capture_output=True, text=True, check=True)
        result = json.loads(done.stdout)
        seconds = result["told"][-1]["at"]
        print(f"demo, {name} time: {seconds:.0f} s of check in {result['wall_seconds']:.1f} s")
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1000
    print(f"demo, peak memory: {peak:.0f} MB")


def main() -> None:
    """Print all of it."""
    with tempfile.TemporaryDirectory() as folder:
        by_keys(Path(folder))
        demo(Path(folder))


if __name__ == "__main__":
    main()
