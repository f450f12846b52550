"""From the end of speech to the first sample of the next prompt, over the virtual sound card, in real time.

`eval "$(.ci/sound)"; python tests/bench/bench_latency.py`. The times are those of a second program's
recordings of both sinks; each recording is laid on the run's clock by the events that it shows.
"""

import sys
import tempfile
from pathlib import Path

import numpy as np
import numpy.typing as npt

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "live"))

from test_whole_check import run_check  # type: ignore[import-not-found]  # a script beside the tests

from runner.voice.port import RATE

QUIET = 0.01
GAP = RATE * 9 // 20


def stretches(sound: npt.NDArray[np.float64]) -> list[tuple[float, float]]:
    """Begin and end, in seconds of the recording, of each stretch of sound between longer silences."""
    loud = np.flatnonzero(np.abs(sound) > QUIET)
    cuts = np.flatnonzero(np.diff(loud) > GAP)
    begins, ends = np.concatenate([[0], cuts + 1]), np.concatenate([cuts, [len(loud) - 1]])
    return [(loud[b] / RATE, loud[e] / RATE) for b, e in zip(begins, ends, strict=True)]


def main() -> None:
    """Run the short check once and print the gaps."""
    with tempfile.TemporaryDirectory() as folder:
        outcome = run_check(Path(folder))
    spoken, prompts = stretches(outcome.pilot_sound), stretches(outcome.prompt_sound)
    onsets = [event.onset_at for event in outcome.heard if hasattr(event, "onset_at")]
    to_epoch = float(np.median([at - begin for at, (begin, _) in zip(onsets, spoken, strict=True)]))
    first_end = outcome.prompt_ends[0]
    ends = np.array([end for _, end in prompts])
    offsets = [first_end - end for end in ends]
    best = min(offsets, key=lambda offset: misfit(ends + offset, outcome.prompt_ends))
    gaps = []
    for _, end in spoken:
        following = [begin + best for begin, _ in prompts if begin + best > end + to_epoch - 0.05]
        if following:
            gaps.append(min(following) - (end + to_epoch))
    print(f"{len(gaps)} answers: median {1000 * np.median(gaps):.0f} ms, worst {1000 * max(gaps):.0f} ms")
    print("each, ms:", " ".join(f"{1000 * gap:.0f}" for gap in gaps))


def misfit(ends: npt.NDArray[np.float64], told: list[float]) -> float:
    """How far the ends of the recorded prompts lie from those told, in the median."""
    return float(np.median([np.abs(ends - at).min() for at in told]))


if __name__ == "__main__":
    main()
