"""Lattice-free MMI (Povey et al. 2016) for one-state phones, as two dense recursions.

A phone's first frame takes output 2p, each further frame 2p + 1. The denominator is every phone string by
a bigram; the numerator is one phone string whose phones must begin near where the ear heard them.
"""

from dataclasses import dataclass

import torch
from torch import Tensor

NEVER = -1e4


@dataclass(frozen=True, slots=True)
class Lines:
    """What is said in each row of a batch."""

    phones: Tensor
    """(batch, most phones); 0 is silence; padded with 0."""
    counts: Tensor
    """(batch,): phones of each row."""
    earliest: Tensor
    """(batch, most phones): first output frame where each may begin."""
    latest: Tensor


def denominator(scores: Tensor, frames: Tensor, bigram: Tensor) -> Tensor:
    """Log sum over all phone strings, (batch,); scores (batch, frames, 80), bigram (40, 40) of logs."""
    first, more = scores[..., 0::2], scores[..., 1::2]
    reached = first[:, 0] + bigram[0][None]  # every recording begins as if after silence
    table = bigram.exp()
    kept = [reached]
    for t in range(1, scores.shape[1]):
        top = reached.amax(1, keepdim=True).detach()
        come = ((reached - top).exp() @ table).clamp(min=1e-30).log() + top
        reached = torch.logaddexp(come + first[:, t], reached + more[:, t])
        kept.append(reached)
    at = torch.stack(kept, 1)[torch.arange(len(frames)), frames - 1]
    return torch.logsumexp(at, 1)


def numerator(scores: Tensor, frames: Tensor, lines: Lines, bigram: Tensor) -> Tensor:
    """Log sum over the ways to say each row's own phones within their times, (batch,)."""
    batch, length, _ = scores.shape
    index = lines.phones[:, None].expand(-1, length, -1)
    first, more = scores[..., 0::2].gather(2, index), scores[..., 1::2].gather(2, index)
    time = torch.arange(length, device=scores.device)[None, :, None]
    may_begin = (time >= lines.earliest[:, None]) & (time <= lines.latest[:, None])
    first = torch.where(may_begin, first, torch.full_like(first, NEVER))
    before = torch.cat([torch.zeros_like(lines.phones[:, :1]), lines.phones[:, :-1]], 1)
    first = first + bigram[before, lines.phones][:, None]
    never = torch.full((batch, 1), NEVER, device=scores.device)
    reached = torch.cat([first[:, 0, :1], never.expand(-1, lines.phones.shape[1] - 1)], 1)
    kept = [reached]
    for t in range(1, length):
        come = torch.cat([never, reached[:, :-1]], 1)
        reached = torch.logaddexp(come + first[:, t], reached + more[:, t]).clamp(min=10 * NEVER)
        kept.append(reached)
    rows = torch.arange(batch, device=scores.device)
    return torch.stack(kept, 1)[rows, frames - 1, lines.counts - 1]
