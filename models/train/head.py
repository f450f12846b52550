"""The phone head: turns the encoder's frames into a probability of each phone, blank first."""

import torch
from torch import Tensor, nn

WIDTH = 288
"""Numbers per frame that the encoder gives."""


class Head(nn.Module):
    """Layer norm, two convolutions, one bidirectional GRU; returns log probabilities (batch, frames, 40)."""

    def __init__(self, hidden: int = 160, outputs: int = 40, layers: int = 1, dropout: float = 0.15) -> None:
        super().__init__()
        self.norm = nn.LayerNorm(WIDTH)
        self.first = nn.Conv1d(WIDTH, hidden, 3, padding=1)
        self.second = nn.Conv1d(hidden, hidden, 3, padding=1)
        self.gru = nn.GRU(hidden, hidden // 2, layers, batch_first=True, bidirectional=True)
        self.out = nn.Linear(hidden, outputs)
        self.drop = nn.Dropout(dropout)

    def forward(self, frames: Tensor) -> Tensor:
        """Frames (batch, frames, 288) to log probabilities."""
        x = self.norm(frames).transpose(1, 2)
        x = self.drop(torch.relu(self.first(x)))
        x = torch.relu(self.second(x)) + x
        x, _ = self.gru(self.drop(x.transpose(1, 2)))
        return self.out(self.drop(x)).log_softmax(-1)
