"""Spoken seconds of what the shipped and the derived checks say: whole and by breaths, longest first.

python tests/bench/bench_prompt.py [ROWS]

A run of each check by the book in which every reason is asked, the cautions in full and then for a pilot who
knows them, with the voice and rate by default, paced and compressed as in a run. The estimate of a breath
(`runner/language/breath.py`) stands beside its sound.
"""

import sys
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Final

from runner.airplane.load.airplane_load import load_airplane
from runner.checklist.derive.derived_check import derive
from runner.core.effect import Say
from runner.core.plan import Plan
from runner.core.state import FINAL
from runner.language.breath import LONGEST_SECONDS, PAUSE_SECONDS, get_sentences, spoken_seconds
from runner.language.catalogue import Word
from runner.place import data_folder
from runner.session.live.prompt_mouth import Mouth, make_mouth
from runner.session.parts import assemble, load_parts
from tests.core.sample import Run, answer_by_the_book

ROWS: Final = 12
Told = tuple[tuple[str, tuple[str, ...]], ...]
"""The breaths of one transmission, each with its read-backs."""


def main() -> None:
    """The longest transmissions, and the longest breaths."""
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else ROWS
    told = dict.fromkeys(each for plan in plans() for each in transmissions(plan))
    with tempfile.TemporaryDirectory() as folder:
        mouth, voice = make_mouth(Path(folder))
        whole = sorted(((seconds(mouth, each), each) for each in told), reverse=True)
        breaths = dict.fromkeys(breath for each in told for breath in each)
        single = sorted(((seconds(mouth, (breath,)), breath) for breath in breaths), reverse=True)
        voice.close()
    _say(f"{len(told)} transmissions; in one breath each (s), and in how many breaths they are said now")
    for length, each in whole[:rows]:
        _say(f"{length:6.2f} {len(each):3}  {' | '.join(text for text, _ in each)}")
    _say(f"{len(single)} breaths; spoken (s), estimated (s)")
    for length, breath in single[:rows]:
        _say(f"{length:6.2f} {estimate(*breath):6.2f}  {breath[0]}")
    over = sum(length > LONGEST_SECONDS for length, _ in single)
    under = sum(length > estimate(*breath) for length, breath in single)
    _say(f"over {LONGEST_SECONDS:g} s: {over}; longer than estimated: {under}")


def plans() -> Iterator[Plan]:
    """Of the shipped checks, and of those derived from the shipped airplanes."""
    shipped = data_folder("checklists")
    yield from (load_parts(path.stem).plan for path in sorted(shipped.glob("*.yaml")))
    for path in sorted((shipped / "airplanes").glob("*.yaml")):
        text = derive(load_airplane(path))
        yield assemble(text, Path("derived.yaml"), path.read_text("utf-8"), path).plan


def transmissions(plan: Plan) -> Iterator[Told]:
    """All that two runs by the book say."""
    for has_heard in (False, True):
        run = Run(replace(plan, has_heard_cautions=has_heard)).start()
        yield told_by(run)
        while run.state not in FINAL:
            yield told_by(run.say(Word.WHY))
            answer_by_the_book(run)
            yield told_by(run)


def told_by(run: Run) -> Told:
    """What the last step began to say, to its end."""
    told = said_in(run)
    while run.machine.rest:
        told += said_in(run.breathe())
    return told


def said_in(run: Run) -> Told:
    """The breath that the last step said."""
    return tuple((each.text, each.read_back) for each in run.effects if isinstance(each, Say))


def seconds(mouth: Mouth, told: Told) -> float:
    """Of all its breaths in one."""
    text = " ".join(text for text, _ in told)
    return mouth.render(text, tuple(slow for _, read_back in told for slow in read_back)).seconds


def estimate(text: str, read_back: tuple[str, ...]) -> float:
    """What the cut went by."""
    parts = get_sentences(text)
    pauses = PAUSE_SECONDS * (len(parts) - 1)
    return pauses + sum(spoken_seconds(part, is_read_back=part in read_back) for part in parts)


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")


if __name__ == "__main__":
    main()
