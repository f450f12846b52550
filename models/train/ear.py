"""The whole network: the encoder, and a phone head that reads three of its layers."""

import torch
from encoder import Encoder
from torch import Tensor, nn

WIDTH = 288
TAPS = (1, 3, 5)
"""Blocks after which the head reads (the last also through the final norm)."""


class WideHead(nn.Module):
    """Norms of three layers, joined and narrowed; two convolutions; a bidirectional GRU; 40 outputs."""

    def __init__(self, hidden: int = 256, layers: int = 2, dropout: float = 0.2) -> None:
        super().__init__()
        self.norms = nn.ModuleList(nn.LayerNorm(WIDTH) for _ in TAPS)
        self.join = nn.Linear(WIDTH * len(TAPS), hidden)
        self.first = nn.Conv1d(hidden, hidden, 3, padding=1)
        self.second = nn.Conv1d(hidden, hidden, 3, padding=1)
        self.gru = nn.GRU(hidden, hidden // 2, layers, batch_first=True, bidirectional=True, dropout=dropout)
        self.out = nn.Linear(hidden, 40)
        self.drop = nn.Dropout(dropout)

    def forward(self, taps: list[Tensor]) -> Tensor:
        """Three tensors (batch, frames, 288) to log probabilities (batch, frames, 40)."""
        joined = torch.cat([norm(tap) for norm, tap in zip(self.norms, taps, strict=True)], -1)
        x = torch.relu(self.join(self.drop(joined))).transpose(1, 2)
        x = torch.relu(self.first(x)) + x
        x = torch.relu(self.second(self.drop(x))) + x
        y, _ = self.gru(self.drop(x.transpose(1, 2)))
        return self.out(self.drop(y + x.transpose(1, 2))).log_softmax(-1)


class Heads(nn.Module):
    """Several heads, started differently; together they say the mean of their log probabilities."""

    def __init__(self, count: int, hidden: int = 256) -> None:
        super().__init__()
        self.each = nn.ModuleList(WideHead(hidden) for _ in range(count))

    def forward(self, taps: list[Tensor]) -> Tensor:
        """As one head's, made to sum to one again."""
        return torch.stack([head(taps) for head in self.each]).mean(0).log_softmax(-1)


class Ear(nn.Module):
    """Sound (batch, samples) to log probabilities (batch, frames, 40)."""

    def __init__(self, encoder: Encoder, heads: Heads) -> None:
        super().__init__()
        self.encoder = encoder
        self.heads = heads

    def forward(self, sound: Tensor, lengths: Tensor | None = None) -> Tensor:
        """Hear."""
        return self.heads(self.encoder.taps(sound, TAPS, lengths))
