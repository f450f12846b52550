"""Train a small phone head on the frozen encoder, on a CPU, in less than an hour.

`python train_head.py --encoder E --real R --synthetic S... --out O`.
Writes O/head.pt and O/ear.onnx, which the product can use. Fourteen minutes on one core with 8,600
utterances, two passes of augmentation and six epochs; the encoder's frames are computed once per pass
and kept in memory as half precision.
"""

import argparse
import random
import time
from pathlib import Path

import numpy as np
import torch
from augment import augmented
from encoder import Encoder, load_encoder
from export import write
from head import Head
from recording import Recording, real, synthetic
from torch import Tensor, nn

from runner.voice.ear.lexicon import Lexicon
from runner.voice.ear.network import onnxruntime  # by way of it, so that no telemetry is sent

Example = tuple[torch.Tensor, torch.Tensor]


def phones_of(text: str, lexicon: Lexicon) -> list[int]:
    """The first pronunciation of each word."""
    return [phone for word in text.split() for phone in lexicon.pronunciations(word)[0]]


def features(session: onnxruntime.InferenceSession, samples: np.ndarray) -> torch.Tensor:
    """The encoder's frames of one utterance."""
    batch = samples[None]
    mask = np.ones(batch.shape, np.int64)
    return torch.from_numpy(session.run(None, {"input_values": batch, "attention_mask": mask})[0][0]).half()


def one_pass(
    recordings: list[Recording], noises: list[np.ndarray], session: onnxruntime.InferenceSession, seed: int
) -> list[Example]:
    """Every utterance once, freshly augmented, through the encoder."""
    rng, lexicon = np.random.default_rng(seed), Lexicon()
    speech = [r.samples for r in recordings]
    made: list[Example] = []
    started = time.perf_counter()
    for done, recording in enumerate(recordings):
        phones = phones_of(recording.text, lexicon)
        frames = features(session, augmented(rng, recording.samples, speech, noises))
        if len(phones) * 1.2 < len(frames):
            made.append((frames, torch.tensor(phones)))
        if done % 2000 == 1999:
            print(f"features {done + 1} {time.perf_counter() - started:.0f} s", flush=True)
    return made


def train(head: Head, examples: list[Example], epochs: int, rate: float, batch: int = 32) -> None:
    """CTC with a one-cycle learning rate."""
    optimiser = torch.optim.AdamW(head.parameters(), lr=rate, weight_decay=0.01)
    steps = epochs * (len(examples) // batch)
    schedule = torch.optim.lr_scheduler.OneCycleLR(optimiser, rate, total_steps=steps + 1, pct_start=0.15)
    order = list(range(len(examples)))
    for epoch in range(epochs):
        random.shuffle(order)
        order.sort(key=lambda i: len(examples[i][0]) // 20 + random.random() * 3)
        batches = [order[i : i + batch] for i in range(0, len(order) - batch + 1, batch)]
        random.shuffle(batches)
        total, started = 0.0, time.perf_counter()
        for chosen in batches:
            total += step(head, [examples[i] for i in chosen], optimiser)
            schedule.step()
        print(
            f"epoch {epoch} loss {total / len(batches):.3f} {time.perf_counter() - started:.0f} s", flush=True
        )


def step(head: Head, chosen: list[Example], optimiser: torch.optim.Optimizer) -> float:
    """One batch."""
    frames = torch.nn.utils.rnn.pad_sequence([f.float() for f, _ in chosen], batch_first=True)
    phones = torch.cat([p for _, p in chosen])
    lengths = torch.tensor([len(f) for f, _ in chosen])
    targets = torch.tensor([len(p) for _, p in chosen])
    loss = torch.nn.functional.ctc_loss(
        head(frames).transpose(0, 1), phones, lengths, targets, zero_infinity=True
    )
    optimiser.zero_grad()
    loss.backward()
    torch.nn.utils.clip_grad_norm_(head.parameters(), 2.0)
    optimiser.step()
    return float(loss)


class SmallEar(nn.Module):
    """The released encoder with a small head on it."""

    def __init__(self, encoder: Encoder, head: Head) -> None:
        super().__init__()
        self.encoder = encoder
        self.head = head

    def forward(self, sound: Tensor) -> Tensor:
        """Sound (batch, samples) to log probabilities (batch, frames, 40)."""
        return self.head(self.encoder(sound))


def main() -> None:
    """Read the arguments, load, train, write."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--encoder", type=Path, required=True, help="encoder_model.ort of the wheel")
    parser.add_argument("--real", type=Path, required=True, help="folder of recordings with index.tsv")
    parser.add_argument("--synthetic", type=Path, nargs="*", default=[])
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--passes", type=int, default=2)
    parser.add_argument("--epochs", type=int, default=10)
    parser.add_argument("--hidden", type=int, default=160)
    parser.add_argument("--seed", type=int, default=0)
    options = parser.parse_args()
    torch.set_flush_denormal(True)
    torch.set_num_threads(1)
    torch.manual_seed(options.seed)
    random.seed(options.seed)
    recordings = [
        r for r in real(options.real, ("commands", "digits", "words", "reading")) if r.part == "train"
    ]
    recordings = [r for r in recordings if r.text and len(r.samples) < 12 * 16000]
    recordings += [r for folder in options.synthetic for r in synthetic(folder)]
    noises = [r.samples for r in real(options.real, ("background",)) if r.part == "train"]
    print(len(recordings), "utterances", flush=True)
    settings = onnxruntime.SessionOptions()
    settings.intra_op_num_threads = 1
    session = onnxruntime.InferenceSession(str(options.encoder), settings)
    examples = [
        e for n in range(options.passes) for e in one_pass(recordings, noises, session, options.seed + n)
    ]
    head = Head(options.hidden)
    train(head, examples, options.epochs, 2e-3)
    options.out.mkdir(parents=True, exist_ok=True)
    torch.save(head.state_dict(), options.out / "head.pt")
    write(SmallEar(load_encoder(options.encoder), head).eval(), options.out / "ear.onnx")


if __name__ == "__main__":
    main()
