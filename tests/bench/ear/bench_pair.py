"""Do two ears hear better than the better one alone, at the same share of wrong answers?

`python -m tests.bench.ear.bench_pair --second vosk` (or pocketsphinx, moonshine) hears every clip with the
built-in ear and the second one, fits the rule of models/train/pair.py on one half of the test speakers and
judges it on the other, both ways round, and prints what each takes rightly at thresholds where wrong
answers are equally many of all utterances, unknown ones included.
"""

import argparse
import json
from functools import lru_cache
from pathlib import Path
from typing import Any
from zlib import crc32

from runner.voice.ear.calibration import read_calibration
from runner.voice.ear.decode import decode
from runner.voice.ear.graph import phrase_graph
from runner.voice.ear.lexicon import Lexicon
from runner.voice.ear.network import PhoneNetwork
from runner.voice.model.model_store import model_files
from runner.voice.port import Block, Samples
from tests.bench.ear.bench_ear import all_clips, place_from, say, weather_from
from tests.bench.ear.engine import ENGINES, Place, make_ear, missing
from tests.bench.ear.sound_set import Clip
from tests.bench.ear.trade import Judged, shares, threshold_for
from tests.bench.ear.training import ROOT, pair
from tests.bench.ear.weather import RECORDED_PACKAGE, Weather

Case = tuple[Clip, str, Any]
"""The clip, its noise, and the opinion on it."""


class Guesser:
    """The built-in ear's best guess and its probability, whether it would take it or not."""

    def __init__(self, models: Path) -> None:
        files = model_files(models)
        self._network = PhoneNetwork(files["ear/ear.onnx"].content())
        self._rule = read_calibration(files["ear/calibration.json"].content())
        lexicon = Lexicon()
        self._graph_of = lru_cache(200)(lambda phrases: phrase_graph(phrases, lexicon))

    def guess(self, samples: Samples, phrases: tuple[str, ...]) -> tuple[str | None, float]:
        """None when the sound is too short for any phrase."""
        found = decode(self._network.posteriors(samples), self._graph_of(phrases))
        return (None, 0.0) if found is None else (found.text, self._rule.probability(found))


def opinions(options: argparse.Namespace, clips: list[Clip], weather: Weather, place: Place) -> list[Case]:
    """What both ears say of every clip in every noise."""
    first, second = Guesser(place.models), make_ear(options.second, place)
    levels = tuple(None if level == 99 else level for level in options.levels)
    found: list[Case] = []
    chosen = [(n, clip) for n, clip in enumerate(clips) if (n // 4) % options.every == 0]
    for number, clip in sorted(chosen, key=lambda numbered: numbered[1].phrases):
        for condition in weather.conditions(number, levels):
            sound = weather.sound(clip, number, condition)
            second.expect(clip.phrases)
            second.feed(Block(sound, 0.0))
            hearing = second.finish()
            guess = first.guess(sound, clip.phrases)
            opinion = pair.Opinion(*guess, hearing.text, hearing.confidence)
            found.append((clip, condition.row(by_kind=False), opinion))
    return found


def half(clip: Clip) -> int:
    """Which half of the speakers."""
    return crc32(clip.speaker.encode()) % 2


def judged(cases: list[Case]) -> dict[str, list[Judged]]:
    """Each ear alone, and the pair by the rule that was fitted on the other half."""
    rules = [
        pair.fit_rule(
            [o for c, _, o in cases if half(c) != n], [c.truth for c, _, _ in cases if half(c) != n]
        )
        for n in range(2)
    ]
    found: dict[str, list[Judged]] = {"built-in alone": [], "second alone": [], "pair": []}
    for clip, noise, opinion in cases:
        answers = (
            (opinion.first, opinion.probability),
            (opinion.second, opinion.confidence),
            rules[half(clip)].chosen(opinion),
        )
        for name, (text, score) in zip(found, answers, strict=True):
            one = Judged((clip.set_name, noise), score, text is not None, text in clip.truth)
            found[name].append(one)
    return found


def to_markdown(found: dict[str, list[Judged]], share: float) -> str:
    """Right and wrong of each at the same share of wrong answers."""
    columns = [shares(cases, threshold_for(cases, share)) for cases in found.values()]
    totals = [_total(cases, threshold_for(cases, share)) for cases in found.values()]
    heads = " | ".join(f"{name}: right % | wrong %" for name in found)
    lines = [f"| set, noise ({100 * share:g} % wrong of all) | n | {heads} |", "|---|---" * 4 + "|"]
    for place in sorted(columns[0]):
        cells = " | ".join(f"{column[place][1]:.1f} | {column[place][2]:.2f}" for column in columns)
        lines.append(f"| {', '.join(place)} | {columns[0][place][0]} | {cells} |")
    cells = " | ".join(f"{right:.2f} | {wrong:.2f}" for right, wrong in totals)
    return "\n".join([*lines, f"| all, right of those in force | {len(found['pair'])} | {cells} |"])


def _total(cases: list[Judged], threshold: float) -> tuple[float, float]:
    """Percent taken and right of the sets in force, and wrong of all."""
    taken = [j for j in cases if j.has_text and j.score >= threshold]
    in_force = sum(not j.place[0].startswith("unknown") for j in cases)
    right = sum(j.is_right for j in taken)
    return 100 * right / in_force, 100 * (len(taken) - right) / len(cases)


def main() -> None:
    """Read the arguments and print."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    add = parser.add_argument
    add("--second", choices=ENGINES[1:], default="vosk")
    add("--work", type=Path, default=ROOT / "build" / "ear", help="folder for what it makes")
    add("--real", type=Path, default=ROOT.parent / "shared" / "speech", help="recordings with index.tsv")
    add("--synthetic", type=Path, nargs="*", default=[])
    add("--recorded", type=Path, default=RECORDED_PACKAGE)
    add("--models", type=Path, default=ROOT / "models")
    add("--vosk", type=Path, default=None, help="folder of a Vosk model (default: in --models)")
    add("--moonshine", type=Path, default=None)
    add("--levels", nargs="*", type=int, default=[99, 10, 5], help="decibels; 99 is quiet")
    add("--sets", nargs="*", help="only sets whose name begins so")
    add("--every", type=int, default=1, help="take every n-th group of four clips only")
    add("--wrong", nargs="*", type=float, default=[0.5, 1.0], help="percent of all")
    add("--threshold", type=float, default=0.75, help="the built-in ear's own, for a line of its own")
    add("--json", type=Path, help="keep the opinions here")
    options = parser.parse_args()
    place = place_from(options)
    lacks = missing(options.second, place)
    if lacks:
        parser.error(f"{options.second}: {lacks}")
    clips = all_clips(options)
    cases = opinions(options, clips, weather_from(options, clips), place)
    if options.json:
        kept = [[c.set_name, n, c.speaker, sorted(c.truth), *_cells(o)] for c, n, o in cases]
        options.json.write_text(json.dumps(kept), encoding="utf-8")
    found = judged(cases)
    say(f"built-in ear and {options.second}")
    for name, threshold in (("second alone", 0.0), ("built-in alone", options.threshold)):
        right, wrong = _total(found[name], threshold)
        say(f"{name}, from {threshold:g} on: right {right:.2f} % of those, wrong {wrong:.2f} % of all")
    for share in options.wrong:
        say(to_markdown(found, share / 100) + "\n")


def _cells(opinion: Any) -> list[str | float | None]:
    return [opinion.first, opinion.probability, opinion.second, opinion.confidence]


if __name__ == "__main__":
    main()
