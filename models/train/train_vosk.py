"""Train the Vosk model's network on a GPU: `python train_vosk.py PACK OUT --times align.npz --minutes 8`.

PACK comes from pack.py, the times from vosk_align.py. OUT gets net.pt, a running average.
"""

import argparse
import copy
import random
import time
from pathlib import Path

import numpy as np
import torch
from recording import packed_with_phones
from torch import Tensor
from train_ear import Batch, Maker, Spoken, noise_bank, rate_at
from vosk_feature import SHIFT, WINDOW, Mfcc
from vosk_mmi import Lines, denominator, numerator
from vosk_net import OUTPUTS, PHONES, SUBSAMPLING, Net

RATE = 16_000
FRAME = SUBSAMPLING * SHIFT / RATE
"""Seconds from one output to the next."""
CENTRE = WINDOW / 2 / RATE
LEAN = 0.04
"""A phone is heard in its middle; it begins about so much earlier."""
SLACK = 0.09
"""Seconds by which a phone may begin earlier or later than the ear says."""
PAUSE = 0.4
"""From one phone to the next, above which there is silence between."""
LONGEST_PHONE = 0.3

Times = tuple[list[int], list[float]]


def read_times(file: Path) -> list[Times]:
    """Of every recording of the pack, in its order; empty where there are none."""
    given = np.load(file)
    ends = np.cumsum(given["counts"].astype(int))
    phones, seconds = given["phones"].astype(int).tolist(), given["seconds"].astype(float).tolist()
    return [(phones[e - c : e], seconds[e - c : e]) for e, c in zip(ends, given["counts"], strict=True)]


def load(pack: Path, file: Path, processes: int) -> tuple[list[Spoken], list[Times]]:
    """Recordings that have times, and the noises; the times of each (phones, seconds)."""
    spoken, times = [], []
    for given, (r, _) in zip(read_times(file), packed_with_phones(pack, processes), strict=True):
        phones = given[0]
        if r.part == "train" and (phones or r.kind == "background"):
            spoken.append(Spoken(torch.from_numpy(r.samples.copy()), r.kind, [phones] if phones else []))
            times.append(given)
    return spoken, times


def bigram_of(times: list[Times]) -> Tensor:
    """Log probability of each phone after each, silence 0, (40, 40)."""
    counts = np.full((PHONES, PHONES), 0.5)
    for phones, _ in (given for given in times if given[0]):
        for one, other in zip([0, *phones], [*phones, 0], strict=True):
            counts[one, other] += 1
    counts[1:, 0] += 0.05 * counts[1:].sum(1)
    return torch.from_numpy(np.log(counts / counts.sum(1, keepdims=True))).float()


def line(pieces: list[tuple[int, float, float]], times: list[Times]) -> list[tuple[int, float, float]]:
    """One row's phones: each with the earliest and the latest second where it may begin."""
    found = [(0, 0.0, 0.0)]
    for index, start, pace in pieces:
        phones, seconds = times[index]
        at = [start + s / pace for s in seconds]
        for n, phone in enumerate(phones):
            if n and at[n] - at[n - 1] > PAUSE:
                found.append((0, at[n - 1] + 0.06, at[n] - 0.1))
            found.append((phone, max(0.04, at[n] - LEAN - SLACK), at[n] - LEAN + SLACK))
        if at:
            found.append((0, at[-1] + 0.02, at[-1] + LONGEST_PHONE))
    return found


def lines(batch: Batch, times: list[Times], device: str) -> Lines:
    """The same for a batch, in output frames; frames begin one after another at least."""
    rows = [line(pieces, times) for pieces in batch.pieces]
    most = max(map(len, rows))
    phones, early, late = (np.zeros((len(rows), most), np.int64) for _ in range(3))
    for r, row in enumerate(rows):
        for n, (phone, first, last) in enumerate(row):
            phones[r, n] = phone
            early[r, n] = max(n, int((first - CENTRE) / FRAME))
            least = late[r, n - 1] + 1 if n else 0
            late[r, n] = max(early[r, n], int(np.ceil((last - CENTRE) / FRAME)), least)
    counts = torch.tensor([len(row) for row in rows], device=device)
    said, earliest, latest = (torch.from_numpy(x).to(device) for x in (phones, early, late))
    return Lines(said, counts, earliest, latest)


def step_loss(net: Net, mfcc: Mfcc, batch: Batch, said: Lines, bigram: Tensor) -> tuple[Tensor, float]:
    """MMI with a cross entropy beside it that keeps it from overfitting; and MMI a frame, for the log."""
    out, soft = net(mfcc(batch.heard))
    limit = out.shape[1]
    frames = torch.tensor(
        [min(limit, max(4, int((s - 2 * CENTRE) / FRAME))) for s in batch.seconds], device=out.device
    )
    frames = torch.minimum(torch.maximum(frames, said.counts + 2), torch.full_like(frames, limit))
    out = out.float()
    free = denominator(out, frames, bigram)
    own = numerator(out, frames, said, bigram)
    is_good = own > -5_000  # a row whose times cannot be met
    gap = (own - free) * is_good
    occupied = torch.autograd.grad(own[is_good].sum(), out, retain_graph=True)[0].detach()
    is_in = (torch.arange(limit, device=out.device)[None] < frames[:, None])[..., None]
    cross = -(occupied * soft).sum() / frames.sum()
    steady = 5e-4 * ((out**2) * is_in).sum() / frames.sum() / OUTPUTS * 40
    objective = gap.sum() / frames.sum()
    return -objective + 0.3 * cross + steady, float(objective.detach())


def train(net: Net, maker: Maker, times: list[Times], options: argparse.Namespace) -> Net:
    """The loop, by the clock; returns the running average."""
    device = options.device
    bigram, mfcc = bigram_of(times).to(device), Mfcc().to(device)
    optimiser = torch.optim.AdamW(net.parameters(), lr=options.rate, weight_decay=0.02)
    kept = copy.deepcopy(net).eval()
    begun = reported = time.perf_counter()
    done, steps, total, recent = 0.0, 0, 0.0, 0
    while done < 1:
        done = (time.perf_counter() - begun) / (options.minutes * 60)
        optimiser.param_groups[0]["lr"] = options.rate * rate_at(min(1.0, done))
        batch = maker.batch(options.batch, options.real_share)
        loss, objective = step_loss(net, mfcc, batch, lines(batch, times, device), bigram)
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 2.0)
        optimiser.step()
        total, steps, recent = total + objective, steps + 1, recent + 1
        decay = min(0.997, steps / (steps + 20))
        with torch.no_grad():
            for mine, theirs in zip(kept.state_dict().values(), net.state_dict().values(), strict=True):
                mine.lerp_(theirs, 1 - decay) if mine.is_floating_point() else mine.copy_(theirs)
        if time.perf_counter() - reported > 30 or done >= 1:
            reported = time.perf_counter()
            print(f"{done:.2f} step {steps} MMI a frame {total / recent:.4f}", flush=True)
            total, recent = 0.0, 0
    return kept


def main() -> None:
    """Read the arguments and train."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("pack", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--times", type=Path, required=True)
    parser.add_argument("--start", type=Path, help="weights to begin with")
    parser.add_argument("--noises", type=int, default=64)
    parser.add_argument("--minutes", type=float, default=8)
    parser.add_argument("--rate", type=float, default=1.5e-3)
    parser.add_argument("--real-share", type=float, default=0.5)
    parser.add_argument("--width", type=int, default=384)
    parser.add_argument("--batch", type=int, default=96)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--processes", type=int, default=14)
    parser.add_argument("--device", default="cuda")
    options = parser.parse_args()
    torch.manual_seed(options.seed)
    random.seed(options.seed)
    started = time.perf_counter()
    spoken, times = load(options.pack, options.times, options.processes)
    noise = noise_bank(spoken, options.noises, options.processes, options.device)
    times = [t for t in times if t[0]]
    maker = Maker([s for s in spoken if s.candidates], noise, options.device, options.seed)
    print(f"{len(spoken)} utterances, loaded in {time.perf_counter() - started:.0f} s", flush=True)
    net = Net(options.width)
    if options.start:
        net.load_state_dict(torch.load(options.start, weights_only=True))
    kept = train(net.to(options.device), maker, times, options)
    options.out.mkdir(parents=True, exist_ok=True)
    torch.save(kept.cpu().state_dict(), options.out / "net.pt")


if __name__ == "__main__":
    main()
