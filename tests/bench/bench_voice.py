"""How long speaking and hearing take: rendering, cache, the listener's own work, and Vosk with any model.

python tests/bench/bench_voice.py [VOSK_MODEL_FOLDER RECORDING]
"""

import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import numpy as np

from runner.voice.ear.vosk_ear import VoskEar
from runner.voice.listen.level import get_dbfs, get_speech_dbfs
from runner.voice.listen.noise import NoiseFloor
from runner.voice.mouth.cache import CachedVoice
from runner.voice.mouth.pace import PacedVoice
from runner.voice.mouth.pyttsx3_voice import Pyttsx3Voice
from runner.voice.port import RATE, Block
from runner.voice.sound import get_blocks, read_sound, resample

PROMPTS = tuple(f"Left main bus, item {letter}, selector to reserve." for letter in "abcdefghijklmnop")
READ_BACK = "two four decimal six volts."
SECONDS_OF_NOISE = 60


def main() -> None:
    """Write each figure on a line."""
    with tempfile.TemporaryDirectory() as folder, Pyttsx3Voice() as voice:
        _show("start the voice's child and speak once", [_time(lambda: voice.render("two"))])
        _show("render a prompt", [_time(partial(voice.render, text)) for text in PROMPTS])
        cached = CachedVoice(PacedVoice(CachedVoice(voice, Path(folder))), Path(folder))
        _show("read back a number for the first time", [_time(lambda: cached.render(READ_BACK))])
        _show("read back another of the same digits", [_time(lambda: cached.render("six two four volts."))])
        for text in PROMPTS:
            cached.render(text)
        _show("prompt from memory", [_time(partial(cached.render, text)) for text in PROMPTS])
        fresh = CachedVoice(PacedVoice(voice), Path(folder))
        _show("prompt from disk", [_time(partial(fresh.render, text)) for text in PROMPTS])
    _show_listener()
    if len(sys.argv) == len(("program", "model", "recording")):
        _show_vosk(Path(sys.argv[1]), Path(sys.argv[2]))


def _show_listener() -> None:
    """Levels and noise floor, which every block costs even when nobody speaks."""
    noise = 0.01 * np.random.default_rng(1).standard_normal(SECONDS_OF_NOISE * RATE)
    blocks = get_blocks(noise.astype(np.float32), 0.0)

    def listen() -> None:
        floor = NoiseFloor()
        for block in blocks:
            get_dbfs(block.samples)
            floor = floor.after(block.seconds, get_speech_dbfs(block.samples))

    seconds = _time(listen)
    _say(f"{'levels and noise floor, share of a core':45} {100.0 * seconds / SECONDS_OF_NOISE:8.2f} %")


def _show_vosk(folder: Path, recording: Path) -> None:
    ears: list[VoskEar] = []
    _show("load the Vosk model", [_time(lambda: ears.append(VoskEar(folder)))])
    samples = resample(read_sound(recording), RATE).samples
    blocks: list[Block] = get_blocks(samples, 0.0)
    ears[0].expect(["one", "two"])
    factors: list[float] = []
    for _ in range(6):
        for block in blocks:
            ears[0].feed(block)
        factors.append(ears[0].finish().compute_seconds * RATE / len(samples))
    cold, warm = factors[0], statistics.median(factors[1:])
    _say(f"{'Vosk, real-time factor':45} {warm:8.3f}      first {cold:.3f}")


def _time(work: Callable[[], object]) -> float:
    started = time.perf_counter()
    work()
    return time.perf_counter() - started


def _show(name: str, seconds: list[float]) -> None:
    _say(f"{name:45} {1000.0 * statistics.median(seconds):8.2f} ms   longest {1000.0 * max(seconds):.2f} ms")


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")


if __name__ == "__main__":
    main()
