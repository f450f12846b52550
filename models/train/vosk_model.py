"""Assemble the Vosk model: `python vosk_model.py OUT net.pt... --times align.npz`."""

import argparse
import math
import re
from pathlib import Path

import torch
import wordfreq
from train_vosk import bigram_of, read_times
from vosk_feature import CONF
from vosk_final import final_mdl
from vosk_graph import UNKNOWN, build
from vosk_net import Net
from vosk_phone import COUNT, SILENCE, word_boundaries

from runner.language.force import word_meanings
from runner.voice.ear.dictionary import dictionary_words
from runner.voice.ear.lexicon import Lexicon
from runner.voice.ear.network_phone import phone_numbers

RADIO = ("zero", "three", "four", "five", "nine", "thousand", "decimal", "twenty", "affirm", "standby",
         "gyro", "ammeter", "annunciator", "of", "and", "squawk", "inverter")  # fmt: skip
"""Words whose radio forms the built-in ear's lexicon knows beside the dictionary's."""
MODEL_CONF = f"""--min-active=200
--max-active=3000
--beam=12.0
--lattice-beam=2.0
--acoustic-scale=1.0
--frame-subsampling-factor=3
--endpoint.silence-phones={SILENCE}
"""


def vocabulary() -> dict[str, list[tuple[int, ...]]]:
    """Every word of the CMU dictionary with its pronunciations, those of the radio first."""
    words: dict[str, list[tuple[int, ...]]] = {}
    for word, spellings in dictionary_words().items():
        if word.replace("'", "").isalpha():
            words[word] = [phone_numbers(" ".join(spelling)) for spelling in spellings]
    lexicon = Lexicon()
    for word in ("tree", "fower", "fife", "niner", *RADIO, *trade_words() - set(words)):
        words[word] = list(lexicon.pronunciations(word))
    return words


def trade_words() -> set[str]:
    """Every word of the shipped checks and of the words that always count."""
    files = (Path(__file__).parents[2] / "checklists").rglob("*.yaml")
    texts = [file.read_text(encoding="utf-8").lower() for file in files]
    return {word for text in (*texts, *word_meanings()) for word in re.findall(r"[a-z]{2,}", text)}


def averaged(files: list[Path]) -> dict[str, torch.Tensor]:
    """The mean of trainings that went on from the same network (Wortsman et al. 2022)."""
    states = [torch.load(file, weights_only=True) for file in files]
    return {name: torch.stack([state[name].float() for state in states]).mean(0) for name in states[0]}


def main() -> None:
    """Read the arguments and write the folder."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("out", type=Path)
    parser.add_argument(
        "net", type=Path, nargs="+", help="net.pt; several that went on from one are averaged"
    )
    parser.add_argument("--entry", type=float, default=-1.5, help="cost of beginning an unknown word, nats")
    parser.add_argument("--times", type=Path, required=True, help="of vosk_align.py, for the bigram")
    options = parser.parse_args()
    state = averaged(options.net)
    net = Net(state["out.weight"].shape[1])
    net.load_state_dict(state)
    words = vocabulary()
    costs = {word: -math.log(max(wordfreq.word_frequency(word, "en"), 1e-8)) for word in words}
    costs[UNKNOWN] = 12.0
    follows = (-bigram_of(read_times(options.times))).tolist()
    for folder in ("am", "conf", "graph/phones"):
        (options.out / folder).mkdir(parents=True, exist_ok=True)
    (options.out / "am/final.mdl").write_bytes(final_mdl(net.eval()))
    (options.out / "conf/mfcc.conf").write_text(CONF, encoding="utf-8")
    (options.out / "conf/model.conf").write_text(MODEL_CONF, encoding="utf-8")
    build(options.out / "graph", words, costs, options.entry, follows)
    (options.out / "graph/phones/word_boundary.int").write_text(word_boundaries(), encoding="utf-8")
    (options.out / "graph/disambig_tid.int").write_text(f"{2 * COUNT + 1}\n", encoding="utf-8")
    size = sum(path.stat().st_size for path in options.out.rglob("*") if path.is_file())
    print(f"{len(words)} words, {size / 1e6:.1f} MB")


if __name__ == "__main__":
    main()
