"""Pack recordings into a few small files for a GPU machine: `python pack.py OUT --real R --synthetic S...`.

OUT/*.opus are Ogg Opus streams of many utterances end to end; OUT/index.json lists them as
[file, first sample, samples, kind, part, speaker, text, phone strings that the text may be], at 16 kHz.
Recordings without a transcript take
their text from a machine's (transcribe.py) where it is sure enough, for training only.
"""

import argparse
import itertools
import json
import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import soundfile
from listen import read_sound
from num2words import num2words
from recording import Recording, clean_text, real, synthetic

from runner.voice.ear.lexicon import Lexicon

SHARD = 16_000 * 600
GAP = 1_600


def spelt(text: str) -> str:
    """A machine's transcript as spoken words."""
    text = re.sub(r"\d+", lambda found: num2words(int(found[0])), text.replace("-", " "))
    return clean_text(text.replace("-", " "))


def phone_strings(text: str, lexicon: Lexicon) -> list[list[int]]:
    """Up to eight ways to say a text, the likeliest first; none when a word cannot be pronounced."""
    words = [lexicon.pronunciations(word)[:4] for word in text.split()]
    if not text or not all(words):
        return []
    ways = itertools.islice(itertools.product(*words), 8)
    return [[phone for word in way for phone in word] for way in ways]


def transcripts(path: Path | None, surest: float) -> dict[str, str]:
    """Texts by file name without its ending."""
    if path is None:
        return {}
    lines = [line.split("\t") for line in path.read_text(encoding="utf-8").splitlines()]
    return {Path(name).stem: spelt(text) for name, score, text in lines if float(score) >= surest}


def prompts(folder: Path | None, texts: dict[str, str]) -> Iterator[Recording]:
    """A folder of G.722 prompts by one speaker, those that have a transcript."""
    for path in sorted(folder.rglob("*.g722")) if folder else ():
        samples = read_sound(path)
        if path.stem in texts and 4_000 < len(samples) < 16_000 * 15:
            yield Recording(samples, texts[path.stem], "prompts", "prompts", "train")


def recordings(options: argparse.Namespace) -> Iterator[Recording]:
    """All that is packed: training and calibration, never the test part."""
    texts = transcripts(options.transcripts, options.surest)
    for recording in real(options.real, ("commands", "digits", "words", "requests", "reading", "background")):
        if recording.kind == "requests" and recording.part == "train":
            text = texts.get(recording.speaker, "")  # without one it is talk, for calibration
            yield Recording(recording.samples, text, recording.speaker, "requests", "train")
        elif recording.part != "test":
            yield recording
    yield from prompts(options.prompts, texts)
    for folder in options.synthetic:
        for recording in synthetic(folder):
            yield recording


def main() -> None:
    """Read the arguments and write the pack."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("out", type=Path)
    parser.add_argument("--real", type=Path, required=True)
    parser.add_argument("--synthetic", type=Path, nargs="*", default=[])
    parser.add_argument("--transcripts", type=Path)
    parser.add_argument("--prompts", type=Path)
    parser.add_argument(
        "--surest", type=float, default=-0.25, help="least mean log probability of a transcript"
    )
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    write(options.out, list(recordings(options)))
    print(sum(p.stat().st_size for p in options.out.iterdir()) / 1e6, "MB")


def write(out: Path, found: list[Recording]) -> None:
    """The Opus shards, better for real speech than for synthetic, and their index."""
    index: list[tuple[str, int, int, str, str, str, str, list[list[int]]]] = []
    lexicon = Lexicon()
    for is_synthetic in (False, True):
        chosen = [r for r in found if (r.kind == "synthetic") is is_synthetic]
        parts: list[np.ndarray] = []
        first = shard = 0
        for number, r in enumerate(chosen):
            name = f"{'s' if is_synthetic else 'r'}{shard}.opus"
            index.append(
                (
                    name,
                    first,
                    len(r.samples),
                    r.kind,
                    r.part,
                    r.speaker,
                    r.text,
                    phone_strings(r.text, lexicon),
                )
            )
            parts += [r.samples, np.zeros(GAP, np.int16)]
            first += len(r.samples) + GAP
            if first > SHARD or number == len(chosen) - 1:
                level = 0.97 if is_synthetic else 0.93
                soundfile.write(out / name, np.concatenate(parts), 16_000, format="OGG", subtype="OPUS",
                                compression_level=level)  # fmt: skip
                print(name, flush=True)
                parts, first, shard = [], 0, shard + 1
    (out / "index.json").write_text(json.dumps(index))


if __name__ == "__main__":
    main()
