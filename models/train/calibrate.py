"""Fit the rule from evidence to probability on people and voices never heard, and write calibration.json.

`python calibrate.py PACK calibration.json --ears FOLD0.onnx FOLD1.onnx FOLD2.onnx`: runs each fold's
network, and the search of the product itself, on the speakers that this network was trained without,
in noise, with random phrases in force.
"""

import argparse
import itertools
import json
import multiprocessing
import random
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

import numpy as np
import torch
from augment import augmented
from recording import FOLDS, Recording, packed
from vocabulary import all_volts, expected

from runner.voice.ear.calibration import EVIDENCE, evidence, read_calibration
from runner.voice.ear.decode import decode
from runner.voice.ear.graph import phrase_graph
from runner.voice.ear.lexicon import Lexicon
from runner.voice.ear.network import PhoneNetwork

SPOKEN_BY_MANY = ("commands", "digits", "words", "requests")
LONGEST = 10 * 16_000
"""Samples."""


@dataclass(frozen=True, slots=True)
class Work:
    """A share of the recordings for one process."""

    ear: Path
    recordings: list[Recording]
    speech: list[np.ndarray]
    noises: list[np.ndarray]
    words: list[str]
    rounds: int
    seed: int


def judged_by(recording: Recording) -> Recording | None:
    """The recording as calibration takes it: a machine's transcript is no truth, only talk."""
    is_voice = recording.kind == "synthetic" and recording.part == "calibration"
    if len(recording.samples) >= LONGEST or not (is_voice or recording.kind in SPOKEN_BY_MANY):
        return None
    return replace(recording, text="") if recording.kind == "requests" else recording


def cases(work: Work) -> tuple[list[np.ndarray], list[bool]]:
    """Evidence of each case, and whether the best phrase was the truth."""
    network = PhoneNetwork(work.ear.read_bytes())
    rng, noise_rng = random.Random(work.seed), np.random.default_rng(work.seed)
    lexicon, volts, seen, right = Lexicon(), all_volts(), [], []
    graph_of = lru_cache(8)(lambda phrases: phrase_graph(phrases, lexicon))
    for recording in work.recordings * work.rounds:
        posteriors = network.posteriors(augmented(noise_rng, recording.samples, work.speech, work.noises))
        for _ in range(3):
            found = decode(posteriors, graph_of(tuple(expected(rng, recording.text, work.words, volts))))
            if found is not None:
                seen.append(evidence(found))
                right.append(found.text == recording.text)
    return seen, right


def all_cases(ears: list[Path], recordings: list[Recording], noises: list[np.ndarray], rounds: int,
              processes: int) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """Evidence (cases, evidence) and truth (cases) of every recording, in several processes."""
    words = sorted({word for r in recordings for word in r.text.split() if len(word) > 1})
    speech = [r.samples for r in recordings][:: max(1, len(recordings) // 300)]
    shares = [
        Work(ear, [r for r in recordings if r.fold == fold][n::processes], speech, noises, words, rounds, n)
        for fold, ear in enumerate(ears)
        for n in range(processes)
    ]
    with multiprocessing.get_context("spawn").Pool(processes) as pool:
        found = pool.map(cases, shares)
    return np.array([x for seen, _ in found for x in seen]), np.array(
        [y for _, r in found for y in r], np.float64
    )


def fit(seen: np.ndarray, right: np.ndarray, units: int) -> dict[str, list[float] | float]:
    """Logistic regression with tanh units beside it."""
    centres, spreads = seen.mean(0), seen.std(0) + 1e-6
    x = torch.tensor((seen - centres) / spreads, dtype=torch.float32)
    y = torch.tensor(right, dtype=torch.float32)
    torch.manual_seed(0)
    hidden, out = torch.nn.Linear(x.shape[1], units), torch.nn.Linear(x.shape[1] + units, 1)
    parameters = [*hidden.parameters(), *out.parameters()]
    optimiser = torch.optim.Adam(parameters, lr=0.02, weight_decay=1e-4)
    for step in range(3000):
        odds = out(torch.cat([x, torch.tanh(hidden(x))], 1))[:, 0]
        loss = torch.nn.functional.binary_cross_entropy_with_logits(odds, y)
        optimiser.zero_grad()
        loss.backward()
        optimiser.step()
        if step % 500 == 499:
            print(f"step {step} loss {loss.item():.4f}")
    return {
        "evidence": list(EVIDENCE),
        "centres": centres.tolist(),
        "spreads": spreads.tolist(),
        "hidden": hidden.weight.detach().double().reshape(-1).tolist(),
        "hidden_offsets": hidden.bias.detach().double().tolist(),
        "weights": out.weight.detach().double().reshape(-1).tolist(),
        "offset": out.bias.item(),
    }  # fmt: skip


def print_curve(fitted: dict[str, list[float] | float], seen: np.ndarray, right: np.ndarray) -> None:
    """How often cases of each probability were right, and what each threshold would take."""
    rule = read_calibration(json.dumps(fitted).encode())
    probability = np.array([rule.probability_of(row) for row in seen])
    for low, high in itertools.pairwise((0, 0.05, 0.2, 0.4, 0.6, 0.8, 0.9, 0.95, 0.98, 0.99, 1.001)):
        inside = (probability >= low) & (probability < high)
        if inside.any():
            said, true = probability[inside].mean(), right[inside].mean()
            print(f"{low:.2f}-{high:.2f}: {said:.3f} said, {true:.3f} true, {inside.sum()} cases")
    for threshold in (0.5, 0.7, 0.8, 0.85, 0.9, 0.95):
        taken = probability >= threshold
        print(f"threshold {threshold}: takes {(taken * right).sum() / right.sum():.4f} of the right, "
              f"{(taken * (1 - right)).sum() / (1 - right).sum():.4f} of the wrong")  # fmt: skip


def main() -> None:
    """Read the arguments, run, fit, write."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("pack", type=Path, help="folder from pack.py")
    parser.add_argument("out", type=Path, help="calibration.json")
    parser.add_argument("--ears", type=Path, nargs=FOLDS, required=True, help="the folds' networks, in order")
    parser.add_argument("--cases", type=Path, help="also keep the cases here (.npz)")
    parser.add_argument("--processes", type=int, default=1)
    parser.add_argument("--rounds", type=int, default=2)
    parser.add_argument("--threshold", type=float, default=0.75)
    parser.add_argument("--settled", type=float, default=0.97)
    options = parser.parse_args()
    torch.set_num_threads(1)
    found = list(packed(options.pack))
    recordings = [r for r in map(judged_by, found) if r is not None]
    noises = [r.samples for r in found if r.kind == "background"]
    seen, right = all_cases(options.ears, recordings, noises, options.rounds, options.processes)
    if options.cases:
        np.savez_compressed(options.cases, seen=seen.astype(np.float32), right=right)
    fitted = fit(seen, right, 32)
    fitted |= {"threshold": options.threshold, "settled": options.settled}
    options.out.write_text(json.dumps(fitted, indent=1) + "\n")
    print_curve(fitted, seen, right)
    print(len(seen), "cases,", f"{right.mean():.3f} right")


if __name__ == "__main__":
    main()
