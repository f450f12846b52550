"""When each phone of the training utterances begins, by the ear: `python vosk_align.py PACK EAR OUT.npz`.

The Vosk model learns these times, so it learns from the ear (distillation by alignment). OUT has
`counts` (phones of each utterance, 0 when it has no transcript or the ear hears something else), and end to
end `phones` (1 to 39) and `seconds` (from the start of the recording to the phone).
"""

import argparse
from pathlib import Path

import numpy as np
import numpy.typing as npt
from recording import packed_with_phones

from runner.voice.ear.network import PhoneNetwork, frame_seconds

RATE = 16_000
PAD = RATE // 4
LEAST = -1.2
"""Mean log probability of a phone below which the transcript is not what the ear hears."""

Scores = npt.NDArray[np.float32]


def aligned(scores: Scores, phones: list[int]) -> tuple[float, list[int]]:
    """Best CTC path through the phones: its score, and the frame where each phone has its peak."""
    labels = np.zeros(2 * len(phones) + 1, int)
    labels[1::2] = phones
    can_skip = np.zeros(len(labels), bool)
    can_skip[3::2] = labels[3::2] != labels[1:-2:2]
    emitted = scores[:, labels]
    best = np.full(len(labels), -1e9)
    best[:2] = emitted[0, :2]
    back = np.zeros((len(scores), len(labels)), np.int8)
    for frame in range(1, len(scores)):
        one = np.concatenate([[-1e9], best[:-1]])
        two = np.where(can_skip, np.concatenate([[-1e9, -1e9], best[:-2]]), -1e9)
        ways = np.stack([best, one, two])
        back[frame] = ways.argmax(0)
        best = ways.max(0) + emitted[frame]
    state = len(labels) - 1 if best[-1] >= best[-2] else len(labels) - 2
    score = float(best[state])
    path = [state]
    for frame in range(len(scores) - 1, 0, -1):
        state -= int(back[frame, state])
        path.append(state)
    path.reverse()
    states = np.array(path)
    peaks = []
    for n in range(len(phones)):
        frames = np.flatnonzero(states == 2 * n + 1)
        peaks.append(int(frames[scores[frames, phones[n]].argmax()]))
    return score, peaks


def times(
    network: PhoneNetwork, samples: npt.NDArray[np.int16], ways: list[list[int]]
) -> tuple[list[int], list[float]]:
    """The likeliest way to say it, and the seconds of its phones; nothing when the ear hears other words."""
    sound = np.pad(samples.astype(np.float32) / 32768, (PAD, PAD))
    scores = network.posteriors(sound / (np.abs(sound).max() + 1e-4) * 0.5)
    found = [(*aligned(scores, way), way) for way in ways if 2 * len(way) + 1 <= len(scores)]
    if not found:
        return [], []
    score, peaks, way = max(found, key=lambda item: item[0])
    if score / len(way) < LEAST:
        return [], []
    return way, [frame_seconds(peak) - PAD / RATE for peak in peaks]


def main() -> None:
    """Read the arguments and align."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("pack", type=Path)
    parser.add_argument("ear", type=Path)
    parser.add_argument("out", type=Path)
    options = parser.parse_args()
    network = PhoneNetwork(options.ear.read_bytes())
    counts, phones, seconds = [], [], []
    for recording, ways in packed_with_phones(options.pack, 2):
        way, at = times(network, recording.samples, ways) if ways and recording.part == "train" else ([], [])
        counts.append(len(way))
        phones += way
        seconds += at
    np.savez_compressed(
        options.out,
        counts=np.array(counts, np.int16),
        phones=np.array(phones, np.int8),
        seconds=np.array(seconds, np.float16),
    )
    print(f"{np.count_nonzero(counts)} of {len(counts)} utterances, {len(phones)} phones")


if __name__ == "__main__":
    main()
