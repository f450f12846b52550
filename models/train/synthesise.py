"""Speak training sentences with synthetic voices into one folder: `python synthesise.py train 6000 OUT`.

OUT gets audio.i16 (all utterances end to end, 16 kHz, 16 bit) and index.tsv
(first sample, samples, part, speaker, text).
"""

import argparse
import random
from pathlib import Path

import numpy as np
from sentence import sentence
from speaker import families, voices
from wordfreq import top_n_list

from runner.voice.ear.dictionary import dictionary_words
from runner.voice.ear.lexicon import Lexicon


def common_words(count: int) -> list[str]:
    """English words, most frequent first, that the pronunciation dictionary knows."""
    known = set(dictionary_words())
    return [
        word
        for word in top_n_list("en", count)
        if word in known and word.isalpha() and (len(word) > 2 or word in {"a", "i"})
    ]


def main() -> None:
    """Read the arguments and write the folder."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("part", choices=("train", "calibration", "test"))
    parser.add_argument("count", type=int)
    parser.add_argument("out", type=Path)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--families", nargs="*", default=["espeak", "flite", "hibari", "piper"])
    parser.add_argument("--texts", type=Path, help="one phrase a line, instead of random sentences")
    options = parser.parse_args()
    rng = random.Random(f"{options.part}{options.seed}")
    words = common_words(24_000)
    texts = options.texts.read_text().split("\n") if options.texts else None
    found = voices(options.part)
    grouped = {family: names for family, names in families(found).items() if family in options.families}
    share = {"espeak": 4, "flite": 3, "piper": 4, "hibari": 3}
    options.out.mkdir(parents=True, exist_ok=True)
    lexicon, first = Lexicon(), 0
    with (options.out / "audio.i16").open("wb") as audio, (options.out / "index.tsv").open("w") as index:
        for done in range(options.count):
            text = rng.choice(texts) if texts else sentence(rng, words)
            if not text or not all(lexicon.pronunciations(word) for word in text.split()):
                continue
            family = rng.choices(list(grouped), [share[name] for name in grouped])[0]
            name = rng.choice(grouped[family])
            samples = found[name](text, rng)
            if len(samples) < 2000 or not np.isfinite(samples).all():
                continue
            samples = samples * (0.5 / max(1e-4, float(np.abs(samples).max())))
            audio.write((samples * 32767).astype(np.int16).tobytes())
            index.write(f"{first}\t{len(samples)}\t{options.part}\t{name}\t{text}\n")
            first += len(samples)
            if done % 500 == 499:
                print(done + 1, f"{first / 16000 / 60:.1f} min", flush=True)


if __name__ == "__main__":
    main()
