"""Many utterances at once on a GPU: gathers, paces, joins, rooms, microphones, noise, level."""

from dataclasses import dataclass

import torch
from torch import Tensor

RATE = 16_000


@dataclass(slots=True)
class Bank:
    """Sounds end to end in one tensor of 16-bit samples on the device."""

    samples: Tensor
    firsts: Tensor
    lengths: Tensor

    @classmethod
    def of(cls, sounds: list[Tensor], device: str) -> "Bank":
        """Join sounds."""
        lengths = torch.tensor([len(s) for s in sounds])
        firsts = torch.cumsum(lengths, 0) - lengths
        return cls(torch.cat(sounds).to(device), firsts.to(device), lengths.to(device))


def placed(bank: Bank, chosen: Tensor, pace: Tensor, lead: Tensor, size: int) -> Tensor:
    """Each chosen sound at its pace from sample `lead` on, in rows of `size`; -1 chooses silence."""
    at = (torch.arange(size, device=chosen.device)[None] - lead[:, None]) * pace[:, None]
    safe = chosen.clamp(min=0)
    is_in = (at >= 0) & (at < bank.lengths[safe][:, None] - 1) & (chosen >= 0)[:, None]
    at = torch.where(is_in, at, torch.zeros_like(at))
    whole = at.floor()
    index = bank.firsts[safe][:, None] + whole.long()
    here, after = bank.samples[index].float(), bank.samples[index + 1].float()
    return torch.where(is_in, here + (after - here) * (at - whole), torch.zeros_like(at)) / 32768


def rooms(count: int, size: int, generator: torch.Generator, device: str) -> Tensor:
    """Room responses as spectra of `size`-point transforms."""
    length = 8000
    time = torch.arange(length, device=device)[None]
    seconds = torch.rand(count, 1, generator=generator, device=device) * 0.45 + 0.04
    tail = torch.randn(count, length, generator=generator, device=device) * torch.exp(
        -6.9 * time / (seconds * RATE)
    )
    tail *= torch.rand(count, 1, generator=generator, device=device) ** 2 * 0.3
    tail[:, :16] = 0
    tail[:, 0] = 1
    return torch.fft.rfft(tail, size)


def microphone(batch: int, size: int, generator: torch.Generator, device: str) -> Tensor:
    """Gain at each frequency of a random microphone: a bumpy response, some of them a telephone's band."""
    bands = 14
    knots = torch.randn(batch, 1, bands, generator=generator, device=device) * 4
    knots *= (torch.rand(batch, 1, 1, generator=generator, device=device) < 0.5).float()
    bins = size // 2 + 1
    decibels = torch.nn.functional.interpolate(knots, bins, mode="linear", align_corners=True)[:, 0]
    hertz = torch.linspace(0, RATE / 2, bins, device=device)[None]
    draw = torch.rand(batch, 1, generator=generator, device=device)
    low = torch.where(draw < 0.2, 300.0, torch.where(draw < 0.4, 120.0, 20.0))
    draw = torch.rand(batch, 1, generator=generator, device=device)
    high = torch.where(draw < 0.28, 3500.0, torch.where(draw < 0.36, 5500.0, 9000.0))
    decibels = decibels - 0.08 * (low - hertz).clamp(min=0) - 0.03 * (hertz - high).clamp(min=0)
    return 10 ** (decibels.clamp(-60, 20) / 20)


def loudness(sound: Tensor) -> Tensor:
    """Power of the loud half of each row's 20 ms stretches."""
    whole = sound.shape[1] // 320 * 320
    power = (sound[:, :whole].reshape(len(sound), -1, 320) ** 2).mean(-1)
    is_loud = power > 0.1 * power.mean(1, keepdim=True)
    return (power * is_loud).sum(1) / is_loud.sum(1).clamp(min=1) + 1e-10


def weathered(clean: Tensor, noise: Bank, generator: torch.Generator, room_spectra: Tensor) -> Tensor:
    """Put clean rows into rooms, before microphones, into noise, at any level."""
    batch, size = clean.shape
    device = clean.device
    points = (room_spectra.shape[1] - 1) * 2

    def rand() -> Tensor:
        return torch.rand(batch, generator=generator, device=device)

    picked = torch.randint(len(room_spectra), (batch,), generator=generator, device=device)
    response = torch.where((rand() < 0.4)[:, None], room_spectra[picked], torch.ones((), device=device))
    spectrum = torch.fft.rfft(clean, points) * response
    sound = torch.fft.irfft(spectrum, points)[:, :size]
    decibels, is_on = rand() * 28 - 3, rand() < 0.8
    sound = sound + _noise(
        noise, generator, size=size, speech=loudness(sound), decibels=decibels, is_on=is_on
    )
    decibels, is_on = rand() * 25 + 3, rand() < 0.25
    sound = sound + _noise(
        noise, generator, size=size, speech=loudness(clean), decibels=decibels, is_on=is_on
    )
    gains = microphone(batch, points, generator, str(device))
    sound = torch.fft.irfft(torch.fft.rfft(sound, points) * gains, points)[:, :size]
    hiss = 10 ** (rand() * 2.5 - 5)
    sound = sound / (sound.abs().amax(1, keepdim=True) + 1e-5)
    sound = sound + torch.randn(sound.shape, generator=generator, device=device) * hiss[:, None]
    return (sound * 10 ** (rand() * 1.7 - 1.5)[:, None]).clamp(-1, 1)


def _noise(
    bank: Bank, generator: torch.Generator, *, size: int, speech: Tensor, decibels: Tensor, is_on: Tensor
) -> Tensor:
    batch, device = len(speech), speech.device
    picked = torch.randint(len(bank.lengths), (batch,), generator=generator, device=device)
    lengths = bank.lengths[picked]
    start = (torch.rand(batch, generator=generator, device=device) * lengths).long()
    index = (start[:, None] + torch.arange(size, device=device)[None]) % lengths[:, None]
    noise = bank.samples[bank.firsts[picked][:, None] + index].float()
    power = (noise**2).mean(1) + 1e-3
    gain = torch.sqrt(speech / 10 ** (decibels / 10) / power) * is_on
    return noise * gain[:, None]
