"""Kaldi's MFCC of 40 numbers in PyTorch, for whole batches; conf/mfcc.conf says the same to Vosk.

After Kaldi's feature-mfcc.cc and feature-window.cc: 25 ms frames each 10 ms, mean removed,
pre-emphasis 0.97, Povey's window, 40 mel bands from 20 to 7600 Hz, log, cosine transform, lifter 22.
"""

import math
from typing import Final

import torch
from torch import Tensor, nn

RATE: Final = 16_000
WINDOW: Final = 400
SHIFT: Final = 160
POINTS: Final = 512
BANDS: Final = 40
LOW, HIGH = 20.0, 7600.0
LIFTER: Final = 22.0
CONF: Final = f"""--use-energy=false
--sample-frequency={RATE}
--num-mel-bins={BANDS}
--num-ceps={BANDS}
--low-freq={LOW:.0f}
--high-freq={HIGH:.0f}
--dither=0
--allow-downsample=true
"""


def mel(hertz: Tensor) -> Tensor:
    """Kaldi's mel scale."""
    return 1127.0 * torch.log1p(hertz / 700.0)


def mel_bands() -> Tensor:
    """Weights (257, bands): triangles in mel."""
    low, high = (float(mel(torch.tensor(x))) for x in (LOW, HIGH))
    step = (high - low) / (BANDS + 1)
    at = mel(torch.arange(POINTS // 2 + 1) * RATE / POINTS)[:, None]
    left = low + step * torch.arange(BANDS)[None]
    up, down = (at - left) / step, (left + 2 * step - at) / step
    weights = torch.minimum(up, down).clamp(min=0)
    weights[-1] = 0  # Kaldi leaves the last bin out
    return weights


def cosines() -> Tensor:
    """Cosine transform with the lifter, (bands, numbers)."""
    n, k = torch.arange(BANDS)[:, None], torch.arange(BANDS)[None]
    matrix = math.sqrt(2 / BANDS) * torch.cos(math.pi / BANDS * (n + 0.5) * k)
    matrix[:, 0] = math.sqrt(1 / BANDS)
    return matrix * (1 + 0.5 * LIFTER * torch.sin(math.pi * torch.arange(BANDS) / LIFTER))[None]


class Mfcc(nn.Module):
    """Sound (batch, samples) between -1 and 1 to (batch, frames, 40)."""

    def __init__(self) -> None:
        super().__init__()
        hann = 0.5 - 0.5 * torch.cos(2 * math.pi * torch.arange(WINDOW) / (WINDOW - 1))
        self.register_buffer("window", hann**0.85)
        self.register_buffer("bands", mel_bands())
        self.register_buffer("cosines", cosines())

    def forward(self, sound: Tensor) -> Tensor:
        """Frames that lie whole in the sound."""
        frames = (sound * 32768).unfold(1, WINDOW, SHIFT)
        frames = frames - frames.mean(-1, keepdim=True)
        before = torch.cat([frames[..., :1], frames[..., :-1]], -1)
        frames = (frames - 0.97 * before) * self.window
        power = torch.fft.rfft(frames, POINTS).abs() ** 2
        logs = (power @ self.bands).clamp(min=torch.finfo(torch.float32).eps).log()
        return logs @ self.cosines
