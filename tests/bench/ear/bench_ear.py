"""How well ears hear, on speakers and voices that neither training nor calibration heard.

`python -m tests.bench.ear.bench_ear` prints for every engine, in one run on the same sound: right, refused
and wrong answers, what was taken though it was not in force, and compute, by set and noise; then false
answers in hours of talk and of noise; at last all of it as Markdown. It makes what it lacks in --work.
Needs scipy, soundfile, soxr and num2words beside eyesout's own dependencies (pip install
'.[test]' soundfile soxr brings them), Debian's espeak-ng and flite once, and for the references what it
asks for. With `apt-get install searchandrescue-data` (GPL), recorded engines get rows of their own.
"""

import argparse
import json
import multiprocessing
import sys
import time
from collections.abc import Iterator
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

from tests.bench.ear import long_run, tally
from tests.bench.ear.engine import ENGINES, SHARES, STEPPING, Place, load_seconds, missing
from tests.bench.ear.hearing import LongWork, Work, hear_long, hear_share, streamed_seconds
from tests.bench.ear.sound_set import Clip, checks_in, real_clips, spoken_clips
from tests.bench.ear.spoken_set import make_sets, missing_programs
from tests.bench.ear.training import ROOT
from tests.bench.ear.weather import RECORDED_PACKAGE, Weather, recorded_engines

_STREAMED = 16
"""Clips of each set that are also heard block by block."""
_PARTS = 8
"""Shares for each process."""


def say(line: str) -> None:
    """One line of the report, at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def all_clips(options: argparse.Namespace) -> list[Clip]:
    """The real and the synthetic clips, of the sets that are asked for; says what is missing."""
    checks = checks_in(ROOT / "checklists")
    clips: list[Clip] = []
    if (options.real / "index.tsv").exists():
        clips += real_clips(options.real)
    else:
        say(f"left out: real recordings; {options.real} has no index.tsv (name their folder with --real)")
    lacks = missing_programs()
    if options.synthetic or not lacks:
        for folder in options.synthetic or make_sets(options.work, checks):
            clips += spoken_clips(folder, checks)
    else:
        say(f"left out: synthetic sets; apt-get install {' '.join(lacks)}")
    wanted = tuple(options.sets or [""])
    return [clip for clip in clips if clip.set_name.startswith(wanted)]


def found_engines(options: argparse.Namespace, place: Place) -> tuple[str, ...]:
    """The asked-for engines that are there; says how to get the others, and who hears fewer clips."""
    found = []
    for engine in options.engines:
        lacks = missing(engine, place)
        if lacks:
            say(f"left out: {engine}; {lacks}")
            continue
        found.append(engine)
        share = SHARES[engine]
        is_part = not options.all and share.every > 1
        part = f"; hears 1 clip of {share.every}, of volts 1 of {share.every_of_many} (--all: every clip)"
        say(f"{engine}: loads in {load_seconds(engine, place):.2f} s{part if is_part else ''}")
    return tuple(found)


def place_from(options: argparse.Namespace) -> Place:
    """Where the models are, as told or by default."""
    return Place(
        options.models,
        options.vosk or options.models / "vosk",
        options.moonshine or options.work / "moonshine_voice" / "assets" / "tiny-en",
    )


def weather_from(options: argparse.Namespace, clips: list[Clip]) -> Weather:
    """The noises, with recorded engines where there are any."""
    engines = recorded_engines(options.recorded)
    if not engines:
        say(
            f"left out: recorded engine noise; none in {options.recorded} "
            "(apt-get install searchandrescue-data, or --recorded FOLDER)"
        )
    return Weather([clip.samples for clip in clips[::7]], engines)


def shares(work: Work, count: int, every: int) -> Iterator[Work]:
    """The work cut into so many parts; of groups of four clips only every n-th."""
    chosen = [pair for pair in work.clips if (pair[0] // 4) % every == 0]
    for n in range(count):
        yield replace(work, clips=chosen[n::count])


def few_of_each(clips: list[tuple[int, Clip]]) -> list[tuple[int, Clip]]:
    """Some clips of each set, spread over it."""
    by_set: dict[str, list[tuple[int, Clip]]] = {}
    for pair in clips:
        by_set.setdefault(pair[1].set_name, []).append(pair)
    return [pair for found in by_set.values() for pair in found[:: max(1, len(found) // _STREAMED)]]


def long_works(options: argparse.Namespace, work: Work) -> list[LongWork]:
    """Each engine on each long sound that can be had."""
    if options.no_long:
        return []
    sounds = [name for name in long_run.SOUNDS if name != "recorded engine" or work.weather.engines]
    if not (options.real / "index.tsv").exists():
        sounds.remove("talk")
    return [
        LongWork(engine, sound, work.place, options.real, options.recorded, options.minutes)
        for engine in work.engines
        for sound in sounds
    ]


def run(options: argparse.Namespace, work: Work) -> tuple[list[tally.Row], list[long_run.LongRow]]:
    """All of it, in several processes."""
    context, started = multiprocessing.get_context("spawn"), time.monotonic()
    with ProcessPoolExecutor(options.processes, context) as pool:
        longs = [pool.submit(hear_long, one) for one in long_works(options, work)]
        parts = [
            pool.submit(hear_share, one) for one in shares(work, options.processes * _PARTS, options.every)
        ]
        jobs: list[Future[Any]] = [*longs, *parts]
        for done, _ in enumerate(as_completed(jobs), 1):
            say(f"{done} of {len(jobs)} parts done, {time.monotonic() - started:.0f} s")
        found = tally.joined(part.result() for part in parts)
        return tally.rows(found, work.engines), [one.result() for one in longs]


def report(options: argparse.Namespace, work: Work) -> None:
    """Run and print, and write the files that are asked for."""
    table, long = run(options, work)
    stepping = tuple(engine for engine in work.engines if engine in STEPPING)
    streamed = streamed_seconds(replace(work, clips=few_of_each(work.clips), engines=stepping))
    heads = ["| set | engine | seconds of sound | compute while it is spoken, ms |", "|---|---|---|---|"]
    lines = [f"| {s} | {e} | {took[0]:.1f} | {1000 * took[1]:.0f} |" for (s, e), took in streamed.items()]
    text = "\n\n".join([tally.to_markdown(table), "\n".join(heads + lines), long_run.to_markdown(long)])
    say(text)
    if options.markdown:
        options.markdown.write_text(text + "\n", encoding="utf-8")
    if options.json:
        compute = [
            {"set": s, "engine": e, "seconds": took[0], "compute": took[1]}
            for (s, e), took in streamed.items()
        ]
        found = {
            "clips": [asdict(r) for r in table],
            "streamed": compute,
            "long": [asdict(r) for r in long],
        }
        options.json.write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")


def arguments() -> argparse.Namespace:
    """The command line."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    add = parser.add_argument
    add("--engines", nargs="*", choices=ENGINES, default=list(ENGINES))
    add("--work", type=Path, default=ROOT / "build" / "ear", help="folder for what it makes")
    add("--real", type=Path, default=ROOT.parent / "shared" / "speech", help="recordings with index.tsv")
    add("--synthetic", type=Path, nargs="*", default=[], help="sets to use in place of those that it makes")
    add("--recorded", type=Path, default=RECORDED_PACKAGE, help="folder with recordings of engines")
    add("--models", type=Path, default=ROOT / "models")
    add("--vosk", type=Path, default=None, help="folder of a Vosk model (default: in --models)")
    add("--moonshine", type=Path, default=None, help="folder tiny-en (default: in --work)")
    add("--levels", nargs="*", type=int, default=[99, 20, 10, 5, 0], help="decibels; 99 is quiet")
    add("--sets", nargs="*", help="only sets whose name begins so")
    add("--every", type=int, default=1, help="take every n-th group of four clips only")
    add("--all", action="store_true", help="slow references hear every clip as well (hours)")
    add("--by-kind", action="store_true", help="engine, propeller and wind in rows of their own")
    add("--no-long", action="store_true", help="leave out the hours of talk and noise")
    add("--minutes", type=int, default=60, help="of each long sound, at most")
    add("--processes", type=int, default=2)
    add("--json", type=Path, help="write the figures here too")
    add("--markdown", type=Path, help="write the tables here too")
    return parser.parse_args()


def main() -> None:
    """Read the arguments and print."""
    options = arguments()
    options.work.mkdir(parents=True, exist_ok=True)
    place = place_from(options)
    engines = found_engines(options, place)
    clips = all_clips(options)
    levels = tuple(None if level == 99 else level for level in options.levels)
    weather = weather_from(options, clips)
    numbered = list(enumerate(clips))
    report(options, Work(numbered, weather, levels, engines, place, options.by_kind, options.all))


if __name__ == "__main__":
    main()
