"""Compares the features with kaldi-native-fbank (PyPI), and MMI with all paths: `python vosk_check.py`."""

import itertools

import kaldi_native_fbank as kaldi
import numpy as np
import torch
from torch import Tensor
from vosk_feature import BANDS, HIGH, LOW, RATE, Mfcc
from vosk_mmi import Lines, denominator, numerator

FEATURE_SLACK = 0.02
"""Largest difference of a feature; they reach about 100."""


def reference(sound: np.ndarray) -> np.ndarray:
    """What Kaldi's own code, as kaldi-native-fbank carries it, makes of the sound."""
    options = kaldi.MfccOptions()
    options.frame_opts.dither = 0
    options.frame_opts.samp_freq = RATE
    options.mel_opts.num_bins = BANDS
    options.mel_opts.low_freq = LOW
    options.mel_opts.high_freq = HIGH
    options.num_ceps = BANDS
    options.use_energy = False
    computer = kaldi.OnlineMfcc(options)
    computer.accept_waveform(RATE, (sound * 32768).tolist())
    computer.input_finished()
    return np.stack([computer.get_frame(n) for n in range(computer.num_frames_ready)])


def features() -> float:
    """Largest difference over a second of tones and noise."""
    at = np.arange(RATE) / RATE
    noise = np.random.default_rng(1).normal(0, 0.02, RATE)
    sound = (0.3 * np.sin(2 * np.pi * 440 * at * (1 + at)) + noise).astype(np.float32)
    ours = Mfcc()(torch.from_numpy(sound)[None])[0].numpy()
    theirs = reference(sound)
    if ours.shape != theirs.shape:
        raise SystemExit(f"frames {ours.shape} and {theirs.shape}")
    return float(np.abs(ours - theirs).max())


def score(scores: Tensor, bigram: Tensor, phones: tuple[int, ...], begins: tuple[int, ...]) -> float:
    """One path: phones, and the frames at which they begin."""
    total, phone, before = 0.0, 0, 0
    for t in range(len(scores)):
        if t in begins:
            phone = phones[begins.index(t)]
            total += float(scores[t, 2 * phone]) + float(bigram[before, phone])
            before = phone
        else:
            total += float(scores[t, 2 * phone + 1])
    return total


def sums() -> tuple[float, float]:
    """Differences of the denominator and of the numerator from the sum of all paths, 5 frames."""
    torch.manual_seed(1)
    length, count = 5, 40
    scores = torch.randn(1, length, 2 * count)
    bigram = torch.full((count, count), -30.0)
    bigram[:3, :3] = torch.randn(3, 3)
    own, free = [], []
    for more in range(length):
        for later in itertools.combinations(range(1, length), more):
            begins = (0, *later)
            for phones in itertools.product(range(3), repeat=len(begins)):
                found = score(scores[0], bigram, phones, begins)
                free.append(found)
                if phones == (0, 2, 1) and begins[1] <= 2 and begins[2] >= 3:
                    own.append(found)
    frames = torch.tensor([length])
    lines = Lines(
        torch.tensor([[0, 2, 1]]), torch.tensor([3]), torch.tensor([[0, 1, 3]]), torch.tensor([[0, 2, 4]])
    )
    whole = float(denominator(scores, frames, bigram)) - float(torch.tensor(free).logsumexp(0))
    part = float(numerator(scores, frames, lines, bigram)) - float(torch.tensor(own).logsumexp(0))
    return whole, part


def main() -> None:
    """Print the differences; leave with an error when one is too large."""
    apart, (whole, part) = features(), sums()
    print(f"features {apart:.5f}, denominator {whole:.6f}, numerator {part:.6f}")
    if apart > FEATURE_SLACK or max(abs(whole), abs(part)) > 1e-3:
        raise SystemExit("not the same")


if __name__ == "__main__":
    main()
