"""The Vosk model's network: a time-delay net whose layers can be written as Kaldi's fixed affines."""

from typing import Final

import torch
from torch import Tensor, nn

PHONES: Final = 40
"""Silence, then the ear's 39."""
OUTPUTS: Final = 2 * PHONES
"""Of each phone: a frame that begins it, a frame that goes on with it."""
SUBSAMPLING: Final = 3
KERNELS: Final = (5, 3, 3, 3, 3, 3, 3, 3)
"""Frames that each layer joins: the first three 10 ms apart, the others 30 ms."""
FINE: Final = 3
"""Layers that work at 10 ms."""


class Layer(nn.Module):
    """Convolution, batch norm, ReLU; from the fourth on what came in is added."""

    def __init__(self, width_in: int, width: int, kernel: int, stride: int, *, adds: bool) -> None:
        super().__init__()
        self.conv = nn.Conv1d(width_in, width, kernel, stride)
        self.norm = nn.BatchNorm1d(width)
        self.adds = adds

    def forward(self, x: Tensor) -> Tensor:
        """(batch, width, frames), shorter by the kernel."""
        y = torch.relu(self.norm(self.conv(x)))
        return y + x[..., 1:-1] if self.adds else y


class Net(nn.Module):
    """MFCC (batch, frames, 40) to log likelihoods (batch, frames / 3, 80), of the frames asked for."""

    def __init__(self, width: int = 384, dropout: float = 0.1) -> None:
        super().__init__()
        self.layers = nn.ModuleList(
            Layer(40 if n == 0 else width, width, k, SUBSAMPLING if n == FINE - 1 else 1, adds=n >= FINE)
            for n, k in enumerate(KERNELS)
        )
        self.out = nn.Conv1d(width, OUTPUTS, 1)
        self.soft = nn.Conv1d(width, OUTPUTS, 1)
        self.drop = nn.Dropout(dropout)

    def forward(self, features: Tensor) -> tuple[Tensor, Tensor]:
        """The outputs, and those of the branch that only steadies training."""
        x = features.transpose(1, 2)
        x = torch.cat([x[..., :1].expand(-1, -1, LEFT), x, x[..., -1:].expand(-1, -1, RIGHT)], -1)
        for n, layer in enumerate(self.layers):
            x = layer(x)
            if n >= FINE:
                x = self.drop(x)
        return self.out(x).transpose(1, 2), self.soft(x).transpose(1, 2).log_softmax(-1)


LEFT: Final = 2 + 1 + 1 + 3 * (len(KERNELS) - FINE)
"""Frames of 10 ms that an output sees before its own, and after it."""
RIGHT: Final = LEFT
