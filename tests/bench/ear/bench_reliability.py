"""Is a probability of 0.9 right nine times in ten? On test speakers and voices, quiet and at 5 dB of noise.

`python -m tests.bench.ear.bench_reliability --real R --synthetic S...` prints, for the built-in ear's best
guess whether taken or refused, what was said of it and what was true.
"""

import argparse
import itertools
from functools import lru_cache
from pathlib import Path

import numpy as np

from runner.voice.ear.calibration import read_calibration
from runner.voice.ear.decode import decode
from runner.voice.ear.graph import phrase_graph
from runner.voice.ear.lexicon import Lexicon
from runner.voice.ear.network import PhoneNetwork
from runner.voice.model.model_store import model_files
from tests.bench.ear.bench_ear import say
from tests.bench.ear.sound_set import checks_in, real_clips, spoken_clips
from tests.bench.ear.training import ROOT
from tests.bench.ear.weather import BABBLE, KINDS, Condition, Weather

EDGES = (0, 0.05, 0.2, 0.4, 0.6, 0.8, 0.9, 0.95, 0.98, 0.99, 1.01)
LONGEST_SAMPLES = 6 * 16_000


def main() -> None:
    """Read the arguments and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--real", type=Path, required=True)
    parser.add_argument("--synthetic", type=Path, nargs="*", default=[])
    options = parser.parse_args()
    files = model_files(ROOT / "models")
    network = PhoneNetwork(files["ear/ear.onnx"].content())
    rule = read_calibration(files["ear/calibration.json"].content())
    lexicon = Lexicon()
    graph_of = lru_cache(200)(lambda phrases: phrase_graph(phrases, lexicon))
    clips = list(real_clips(options.real))
    checks = checks_in(ROOT / "checklists")
    clips += [clip for folder in options.synthetic for clip in spoken_clips(folder, checks)]
    weather = Weather([clip.samples for clip in clips[::7]])
    said, true = [], []
    for (number, clip), level in itertools.product(enumerate(clips), (None, 5)):
        is_babble = level is not None and number % 4 == BABBLE
        if is_babble or len(clip.samples) > LONGEST_SAMPLES:
            continue
        condition = Condition("quiet") if level is None else Condition(KINDS[number % 4], level)
        sound = weather.sound(clip, number, condition)
        found = decode(network.posteriors(sound), graph_of(clip.phrases))
        if found is not None:
            said.append(rule.probability(found))
            true.append(found.text in clip.truth)
    say("probability   guesses   said    true")
    for low, high in itertools.pairwise(EDGES):
        inside = [n for n, value in enumerate(said) if low <= value < high]
        if inside:
            means = [float(np.mean([values[n] for n in inside])) for values in (said, true)]
            say(f"{low:.2f} to {min(high, 1):.2f} {len(inside):8} {means[0]:7.3f} {means[1]:7.3f}")


if __name__ == "__main__":
    main()
