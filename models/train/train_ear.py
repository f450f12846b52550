"""Train the whole ear on a GPU: `python train_ear.py PACK OUT --minutes 8`.

PACK comes from pack.py. First the head
learns on the frozen encoder; then all of it, the encoder slowly and held near what the released encoder
makes of the same speech without noise. The weights kept are a running average. OUT gets
encoder.pt and heads.pt in half precision. With --fold, a third of the speakers is left out, for calibration.
"""

import argparse
import copy
import multiprocessing
import random
import time
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import torch
from chorus import Bank, placed, rooms, weathered
from ear import Ear, Heads
from encoder import Encoder, frame_count, load_encoder
from noise import any_noise
from recording import packed_with_phones
from sentence import SHORT
from torch import Tensor

RATE = 16_000


@dataclass(slots=True)
class Spoken:
    """An utterance: its sound, and the phone strings it may be."""

    sound: Tensor
    kind: str
    candidates: list[list[int]]
    chosen: int = 0


@dataclass(frozen=True, slots=True)
class Batch:
    """Rows of sound, and what was said in each, where."""

    clean: Tensor
    heard: Tensor
    """The same in rooms and noise."""
    seconds: np.ndarray
    """Length of each row without the padding."""
    pieces: list[list[tuple[int, float, float]]]
    """Of each row: which utterance, where it begins in seconds, at what pace."""


def load(pack: Path, processes: int, fold: int | None) -> tuple[list[Spoken], list[Spoken]]:
    """The packed recordings for training, and commands of the fold's speakers to watch it by."""
    train, held = [], []
    for r, ways in packed_with_phones(pack, processes):
        spoken = Spoken(torch.from_numpy(r.samples.copy()), r.kind, ways)
        is_held = fold == r.fold and r.kind not in ("background", "synthetic", "reading", "prompts")
        if r.part == "train" and not is_held and (ways or r.kind == "background"):
            train.append(spoken)
        if is_held and r.kind in ("commands", "digits") and r.text in SHORT:
            held.append(spoken)
    return train, held


def _noises(job: tuple[int, list[np.ndarray]]) -> list[np.ndarray]:
    seed, speech = job
    rng = np.random.default_rng(seed)
    return [(any_noise(rng, 6 * RATE, speech) * 3000).clip(-32000, 32000).astype(np.int16) for _ in range(40)]


def noise_bank(found: list[Spoken], jobs: int, processes: int, device: str) -> Bank:
    """Synthesised noises, and the recorded ones several times."""
    speech = [s.sound.numpy() for s in random.choices([s for s in found if s.candidates], k=400)]
    with multiprocessing.get_context("fork").Pool(processes) as pool:
        made = [n for part in pool.map(_noises, [(i, speech) for i in range(jobs)]) for n in part]
    recorded = [s.sound[i : i + 6 * RATE] for s in found if s.kind == "background"
                for i in range(0, len(s.sound) - 6 * RATE, 2 * RATE)]  # fmt: skip
    return Bank.of([torch.from_numpy(n) for n in made] + recorded * 3, device)


class Maker:
    """Makes batches."""

    def __init__(self, spoken: list[Spoken], noise: Bank, device: str, seed: int) -> None:
        self.spoken, self.noise, self.device = spoken, noise, device
        self.bank = Bank.of([s.sound for s in spoken], device)
        self.rng = np.random.default_rng(seed)
        self.generator = torch.Generator(device).manual_seed(seed)
        self._rooms: dict[int, Tensor] = {}
        real = [i for i, s in enumerate(spoken) if s.kind != "synthetic"]
        made = [i for i, s in enumerate(spoken) if s.kind == "synthetic"]
        self.real, self.made = np.array(real), np.array(made)
        self.seconds = np.array([len(s.sound) / RATE for s in spoken])

    def batch(self, count: int, share: float) -> Batch:
        """So many rows at most; `share` of them real."""
        pool = 4 * count
        pick = np.where(
            self.rng.random(pool) < share, self.rng.choice(self.real, pool), self.rng.choice(self.made, pool)
        )
        second = np.where(self.rng.random(pool) < 0.2, self.rng.choice(len(self.spoken), pool), -1)
        pick[self.rng.random(pool) < 0.03] = -1
        pace, lead = self.rng.uniform(0.82, 1.2, pool), self.rng.uniform(0.03, 0.7, pool)
        gap, tail = self.rng.uniform(0.05, 0.9, pool), self.rng.uniform(0.05, 0.8, pool)
        long1 = np.where(pick >= 0, self.seconds[pick], 1.0) / pace
        long2 = np.where(second >= 0, self.seconds[second] / pace + gap, 0.0)
        total = lead + long1 + long2 + tail
        order = np.argsort(total)
        begin = int(self.rng.integers(pool - count))
        rows = order[begin : begin + count]
        rows = rows[total[rows] < 14]
        size = int(total[rows].max() * RATE)

        def tensor(values: np.ndarray) -> Tensor:
            return torch.from_numpy(values[rows]).to(self.device)

        paces = tensor(pace.astype(np.float32))
        first = placed(self.bank, tensor(pick), paces, tensor(lead * RATE).float(), size)
        start = lead + long1 + gap
        clean = first + placed(self.bank, tensor(second), paces, tensor(start * RATE).float(), size)
        points = 2 ** int(np.ceil(np.log2(size + 8000)))
        heard = weathered(clean, self.noise, self.generator, self._rooms_at(points))
        clean = clean / (clean.abs().amax(1, keepdim=True) + 1e-4) * 0.5
        pieces = [[(int(pick[r]), lead[r], pace[r]), (int(second[r]), start[r], pace[r])] for r in rows]
        return Batch(clean, heard, total[rows], [[p for p in row if p[0] >= 0] for row in pieces])

    def phones(self, batch: Batch) -> list[list[int]]:
        """What is said in each row."""
        return [[x for index, _, _ in row for x in self._phones(index)] for row in batch.pieces]

    def _rooms_at(self, points: int) -> Tensor:
        """Room responses for a transform of so many points; made once."""
        if points not in self._rooms:
            self._rooms[points] = rooms(300, points, self.generator, self.device)
        return self._rooms[points]

    def _phones(self, index: int) -> list[int]:
        if not self.spoken[index].candidates:
            return []
        return self.spoken[index].candidates[self.spoken[index].chosen]


def ctc(log_probabilities: Tensor, frames: Tensor, phones: list[list[int]]) -> Tensor:
    """Loss of each row, divided by its phones."""
    lengths = torch.tensor([len(p) for p in phones])
    flat = torch.tensor([x for p in phones for x in p], dtype=torch.long)
    device = log_probabilities.device
    loss = torch.nn.functional.ctc_loss(
        log_probabilities.float().transpose(0, 1), flat.to(device), frames, lengths.to(device),
        reduction="none", zero_infinity=True,
    )  # fmt: skip
    return loss / lengths.clamp(min=3).to(device)


@torch.no_grad()
def choose_candidates(ear: Ear, maker: Maker) -> None:
    """Take the pronunciation that the network hears; leave out what it hears as something else altogether."""
    ear.eval()
    losses = np.zeros(len(maker.spoken))
    many = [i for i, s in enumerate(maker.spoken) if s.candidates]
    many.sort(key=lambda i: len(maker.spoken[i].sound))
    for begin in range(0, len(many), 96):
        chosen = many[begin : begin + 96]
        size = max(len(maker.spoken[i].sound) for i in chosen) + 6400
        index = torch.tensor(chosen, device=maker.device)
        ones = torch.ones(len(chosen), device=maker.device)
        sound = placed(maker.bank, index, ones, ones * 3200, size)
        sound = sound / (sound.abs().amax(1, keepdim=True) + 1e-4) * 0.5
        frames = torch.tensor(
            [frame_count(len(maker.spoken[i].sound) + 6400) for i in chosen], device=maker.device
        )
        heard = ear(sound, frames)
        rows = [(row, n) for row, i in enumerate(chosen) for n in range(len(maker.spoken[i].candidates))]
        picked = torch.tensor([row for row, _ in rows], device=maker.device)
        loss = ctc(
            heard[picked], frames[picked], [maker.spoken[chosen[r]].candidates[n] for r, n in rows]
        ).cpu()
        best: dict[int, tuple[float, int]] = {}
        for (row, n), value in zip(rows, loss.tolist(), strict=True):
            best[row] = min(best.get(row, (9e9, 0)), (value, n))
        for row, (value, n) in best.items():
            maker.spoken[chosen[row]].chosen = n
            losses[chosen[row]] = value
    for kind in ("words", "requests", "prompts", "synthetic", "commands"):
        of_kind = [i for i in many if maker.spoken[i].kind == kind]
        limit = np.quantile(losses[of_kind], 0.93 if kind == "words" else 0.98) if of_kind else 0
        dropped = {i for i in of_kind if losses[i] > max(limit, 1.0)}
        maker.real = np.array([i for i in maker.real if i not in dropped])
        maker.made = np.array([i for i in maker.made if i not in dropped])
        print(
            f"{kind}: loss {np.mean(losses[of_kind]) if of_kind else 0:.3f}, left out {len(dropped)}",
            flush=True,
        )
    ear.train()


@torch.no_grad()
def judged(ear: Ear, held: list[Spoken], words: list[list[int]], noise: Bank, device: str) -> str:
    """Forced choice among the words on held-aside speakers, quiet and in noise."""
    ear.eval()
    maker = Maker(held, noise, device, 5)
    right = {"quiet": 0, "noise": 0}
    for begin in range(0, len(held), 64):
        chosen = held[begin : begin + 64]
        index = torch.arange(begin, begin + len(chosen), device=device)
        ones = torch.ones(len(chosen), device=device)
        size = max(len(s.sound) for s in chosen) + 6400
        clean = placed(maker.bank, index, ones, ones * 3200, size)
        points = 2 ** int(np.ceil(np.log2(size + 8000)))
        weather = weathered(clean, noise, maker.generator, rooms(50, points, maker.generator, device))
        frames = torch.tensor([frame_count(size)] * len(chosen), device=device)
        for name, sound in (("quiet", clean), ("noise", weather)):
            heard = ear(sound, frames)
            scores = torch.stack([
                ctc(heard, frames, [word] * len(chosen)) * max(3, len(word)) for word in words
            ])  # fmt: skip
            for row, best in enumerate(scores.argmin(0).tolist()):
                right[name] += words[best] in chosen[row].candidates
    ear.train()
    return ", ".join(f"{name} {count / max(1, len(held)):.4f}" for name, count in right.items())


def rate_at(done: float) -> float:
    """Share of the full learning rate: a short rise, then a cosine to nothing."""
    return min(1.0, done / 0.04) * 0.5 * (1 + np.cos(np.pi * done))


def main() -> None:
    """Read the arguments and train."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("pack", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--encoder", type=Path, required=True, help="encoder_model.ort")
    parser.add_argument("--noises", type=int, default=64, help="forties of six-second noises")
    parser.add_argument("--minutes", type=float, default=8, help="of training, loading not counted")
    parser.add_argument(
        "--head-share", type=float, default=0.25, help="share of the time with the encoder frozen"
    )
    parser.add_argument("--encoder-rate", type=float, default=1e-4)
    parser.add_argument("--near", type=float, default=1.0, help="weight of staying near the released encoder")
    parser.add_argument("--real-share", type=float, default=0.55)
    parser.add_argument("--hidden", type=int, default=256)
    parser.add_argument("--heads", type=int, default=2)
    parser.add_argument("--fold", type=int, help="leave out this fold's speakers (default: none)")
    parser.add_argument("--batch", type=int, default=96)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--processes", type=int, default=14)
    parser.add_argument("--device", default="cuda")
    options = parser.parse_args()
    torch.manual_seed(options.seed)
    torch.backends.cuda.matmul.allow_tf32 = True
    torch.backends.cudnn.allow_tf32 = True
    started = time.perf_counter()
    found, held = load(options.pack, options.processes, options.fold)
    words = [way for s in held for way in s.candidates]
    words = [list(way) for way in dict.fromkeys(map(tuple, words))]
    spoken = [s for s in found if s.candidates]
    noise = noise_bank(found, options.noises, options.processes, options.device)
    encoder = load_encoder(options.encoder)
    teacher = copy.deepcopy(encoder).to(options.device).eval()
    ear = Ear(encoder, Heads(options.heads, options.hidden)).to(options.device)
    maker = Maker(spoken, noise, options.device, options.seed)
    hours = maker.seconds.sum() / 3600
    print(
        f"{len(spoken)} utterances, {hours:.1f} h, loaded in {time.perf_counter() - started:.0f} s",
        flush=True,
    )
    kept = run(
        ear,
        teacher,
        maker,
        options,
        lambda e: judged(e, held, words, noise, options.device) if held else "nobody",
    )
    options.out.mkdir(parents=True, exist_ok=True)
    torch.save({n: v.half().cpu() for n, v in kept.encoder.state_dict().items()}, options.out / "encoder.pt")
    torch.save({n: v.half().cpu() for n, v in kept.heads.state_dict().items()}, options.out / "heads.pt")


def run(ear: Ear, teacher: Encoder, maker: Maker, options: argparse.Namespace, judge) -> Ear:  # noqa: ANN001
    """The loop, by the clock; returns the running average."""
    head_rate = 1.2e-3
    optimiser = torch.optim.AdamW(
        [
            {"params": ear.heads.parameters(), "lr": head_rate},
            {"params": ear.encoder.parameters(), "lr": 0.0},
        ],
        weight_decay=0.01,
    )
    kept = copy.deepcopy(ear).eval()
    begun = time.perf_counter()
    seconds = options.minutes * 60
    done, steps, is_frozen, total, reported, refreshes = 0.0, 0, True, 0.0, begun, 0
    for head in kept.heads.each:
        head.gru.flatten_parameters()
    ear.train()
    while done < 1:
        done = (time.perf_counter() - begun) / seconds
        if done > (options.head_share * 0.6, 2)[refreshes]:
            choose_candidates(kept if refreshes else ear, maker)
            refreshes += 1
        is_frozen = done < options.head_share
        optimiser.param_groups[0]["lr"] = head_rate * rate_at(done)
        optimiser.param_groups[1]["lr"] = 0.0 if is_frozen else options.encoder_rate * rate_at(done)
        batch = maker.batch(options.batch, options.real_share)
        frames = torch.tensor([frame_count(int(t * RATE)) for t in batch.seconds], device=options.device)
        phones = maker.phones(batch)
        with torch.no_grad():
            goal = None if is_frozen or not options.near else teacher(batch.clean, frames)
        with torch.set_grad_enabled(not is_frozen):
            taps = ear.encoder.taps(batch.heard, (1, 3, 5), frames)
        is_in = (torch.arange(taps[0].shape[1], device=frames.device)[None] < frames[:, None]).float()
        loss = sum(ctc(head(taps), frames, phones).mean() for head in ear.heads.each) / len(ear.heads.each)
        if goal is not None:
            distance = (((taps[2] - goal) ** 2).mean(-1) * is_in).sum() / is_in.sum()
            loss = loss + options.near * distance
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(ear.parameters(), 1.0)
        optimiser.step()
        total, steps = total + float(loss.detach()), steps + 1
        decay = min(0.998, steps / (steps + 20))
        with torch.no_grad():
            for mine, theirs in zip(kept.parameters(), ear.parameters(), strict=True):
                mine.lerp_(theirs, 1 - decay)
        if time.perf_counter() - reported > 40 or done >= 1:
            reported = time.perf_counter()
            print(f"{done:.2f} step {steps} loss {total / steps:.3f} held {judge(kept)}", flush=True)
    return kept


if __name__ == "__main__":
    main()
