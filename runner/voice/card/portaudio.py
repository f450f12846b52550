"""The one place that imports sounddevice: PortAudio's devices, and streams that can be opened again."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, Final

from runner.errors import AudioError
from runner.voice.card.audio_clock import Timekeeper

NO_LIBRARY: Final = "the sound library PortAudio is missing; apt install libportaudio2, or use keys"

LATENCY_SECONDS: Final = 0.03
"""Sound under way in either direction: short enough to answer in time, long enough for a busy computer."""

CLOSE_SECONDS: Final = 2.0
"""A stream takes a few milliseconds to close; one that takes longer will not."""


@dataclass(frozen=True, slots=True)
class Device:
    """A sound device as PortAudio lists it."""

    index: int
    name: str
    system: str
    """The sound system that it belongs to, such as ALSA."""
    inputs: int
    """Channels that can be recorded."""
    outputs: int
    """Channels that can be played."""
    rate: int
    """Its own sample rate."""
    is_default_input: bool
    is_default_output: bool


class Role(StrEnum):
    """What a stream is for."""

    MICROPHONE = "microphone"
    LOUDSPEAKER = "loudspeaker"


@dataclass(frozen=True, slots=True)
class StreamChoice:
    """What a stream shall be like."""

    role: Role
    device: str
    """Empty for the default one, a number of the list, or part of a name."""
    milliseconds: int
    """Length of a block."""
    rate: int | None = None
    """Wished sample rate; the device's own when there is no wish, or it cannot be."""


@dataclass(slots=True)
class Stream:
    """An open stream, and how its times become ours."""

    raw: Any
    rate: int
    to_epoch: float
    """Added to the stream's times, it gives seconds since the epoch."""
    is_busy: Callable[[], bool]
    """Whether closing it now would cut something short."""

    @property
    def is_alive(self) -> bool:
        """PortAudio still serves it, as far as PortAudio knows."""
        return bool(not self.is_stuck and not self.raw.closed and self.raw.active)

    is_stuck: bool = False
    """Closing it did not come to an end: the device went away under it, and PortAudio waits for ever."""

    def close(self) -> None:
        """Stop at once; a stream whose device is gone may complain or hang, and is then left behind."""
        closer = threading.Thread(target=self._close_raw, name="closing sound", daemon=True)
        closer.start()
        closer.join(CLOSE_SECONDS)
        self.is_stuck = closer.is_alive()

    def _close_raw(self) -> None:
        with contextlib.suppress(Exception):
            self.raw.close(ignore_errors=True)


class PortAudio:
    """PortAudio of this process; AudioError when the library is not there."""

    def __init__(self, clock: Timekeeper) -> None:
        self.clock = clock
        self._streams: list[Stream] = []
        try:
            import sounddevice  # noqa: PLC0415 - loads the library, which may be missing
        except (ImportError, OSError):
            raise AudioError(NO_LIBRARY) from None
        self._sounddevice: Any = sounddevice

    def devices(self) -> tuple[Device, ...]:
        """All devices, as they were when PortAudio last looked (at its start, or at `renew`)."""
        systems = self._sounddevice.query_hostapis()
        default_input, default_output = self._sounddevice.default.device
        return tuple(
            Device(
                index=raw["index"],
                name=raw["name"],
                system=systems[raw["hostapi"]]["name"],
                inputs=raw["max_input_channels"],
                outputs=raw["max_output_channels"],
                rate=int(raw["default_samplerate"]),
                is_default_input=raw["index"] == default_input,
                is_default_output=raw["index"] == default_output,
            )
            for raw in self._sounddevice.query_devices()
        )

    def name_of(self, role: Role, device: str = "") -> str:
        """The name of the device that `open` would take; AudioError when there is none."""
        kind = "input" if role is Role.MICROPHONE else "output"
        try:
            return str(self._sounddevice.query_devices(_choose(device), kind)["name"])
        except (self._sounddevice.PortAudioError, ValueError) as error:
            reason = " ".join(str(error).split())
            raise AudioError(f"there is no such {role} ({reason}); see `eyesout devices`") from None

    def renew(self) -> bool:
        """Look for devices anew, which ends every stream; not done while one of them is busy or stuck."""
        if any(stream.is_alive and stream.is_busy() for stream in self._streams):
            return False
        for stream in self._streams:
            stream.close()
        if any(stream.is_stuck for stream in self._streams):
            return False
        self._streams.clear()
        self._sounddevice._terminate()  # noqa: SLF001 - the library's authors name no other way
        self._sounddevice._initialize()  # noqa: SLF001 - as above
        return True

    def open(
        self, wanted: StreamChoice, callback: Callable[..., None], is_busy: Callable[[], bool] = lambda: False
    ) -> Stream:
        """Open and start a stream of one channel; AudioError when the device will not."""
        library, device = self._sounddevice, _choose(wanted.device)
        kind = library.InputStream if wanted.role is Role.MICROPHONE else library.OutputStream
        try:
            rate = self._settle_rate(wanted, device)
            raw = kind(
                device=device,
                samplerate=rate,
                blocksize=rate * wanted.milliseconds // 1000,
                channels=1,
                dtype="float32",
                latency=LATENCY_SECONDS,
                callback=callback,
            )
            raw.start()
        except (library.PortAudioError, ValueError) as error:
            name = f"{wanted.role} {wanted.device!r}" if wanted.device else f"default {wanted.role}"
            reason = " ".join(str(error).split())
            raise AudioError(f"the {name} cannot be opened ({reason}); see `eyesout devices`") from None
        stream = Stream(raw, rate, self.clock.now() - raw.time, is_busy)
        self._streams = [old for old in self._streams if old.is_stuck or old.is_alive] + [stream]
        return stream

    def _settle_rate(self, wanted: StreamChoice, device: str | int | None) -> int:
        """The wished rate if the device can do it, else its own."""
        is_input = wanted.role is Role.MICROPHONE
        library = self._sounddevice
        if wanted.rate is not None:
            check = library.check_input_settings if is_input else library.check_output_settings
            with contextlib.suppress(library.PortAudioError):
                check(device, 1, "float32", samplerate=wanted.rate)
                return wanted.rate
        kind = "input" if is_input else "output"
        return int(library.query_devices(device, kind)["default_samplerate"])


def _choose(device: str) -> str | int | None:
    """PortAudio's way to name a device: nothing for the default, a number, or part of a name."""
    if not device:
        return None
    return int(device) if device.isdecimal() else device
