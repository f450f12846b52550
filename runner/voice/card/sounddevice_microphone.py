"""A microphone through sounddevice: 30 ms blocks with their times, and a watch over its disappearance."""

from __future__ import annotations

import queue
import threading
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, Final

import numpy as np
import soxr

from runner.errors import AudioError
from runner.voice.card.audio_clock import SampleClock
from runner.voice.card.portaudio import PortAudio, Role, Stream, StreamChoice
from runner.voice.port import RATE, Block, Samples

BLOCK_MILLISECONDS: Final = 30
QUEUE_BLOCKS: Final = 200
"""6 s of sound may wait for the ear; older sound than that is of no use."""
LOOK_SECONDS: Final = 0.5
"""How often a silent queue makes the watchdog look."""

Raw = tuple[Samples, float]
"""Samples at the stream's rate, and the sound card's time of the first one."""


@dataclass(frozen=True, slots=True)
class Watchdog:
    """Tells from missing blocks that a microphone is gone, since no sound library says so.

    `after_...` give the next value.
    """

    last_at: float
    """When a block last ended (at first: when the microphone was opened), seconds since the epoch."""
    limit: float = 1.5
    """Seconds without a block after which the microphone counts as lost."""
    is_lost: bool = False

    def after_block(self, ended_at: float) -> Watchdog:
        """A block has come: the microphone is there."""
        return replace(self, last_at=max(self.last_at, ended_at), is_lost=False)

    def after_time(self, now: float) -> Watchdog:
        """Time has gone by."""
        return replace(self, is_lost=self.is_lost or now - self.last_at >= self.limit)


class SounddeviceMicrophone:
    """Delivers blocks on a thread of its own, so that the ear may take its time.

    `changed(is_lost, at)` is called on that thread when the device disappears and when it is back,
    `failed(error)` when a library raised what nobody expected.
    """

    def __init__(
        self,
        audio: PortAudio,
        device: str = "",
        changed: Callable[[bool, float], None] | None = None,
        failed: Callable[[Exception], None] | None = None,
    ) -> None:
        self._audio, self._device = audio, device
        self._changed = changed or (lambda _is_lost, _at: None)
        self._failed = failed or (lambda _error: None)
        self._queue: queue.Queue[Raw | None] = queue.Queue(QUEUE_BLOCKS)
        self._stream: Stream | None = None
        self._thread: threading.Thread | None = None
        self.dropped = 0
        """Blocks that found the queue full."""

    def open(self, deliver: Callable[[Block], None]) -> None:
        """Start; AudioError when there is no device."""
        stream = self._open_stream()
        self._thread = threading.Thread(target=self._serve, args=(deliver, stream), name="ear", daemon=True)
        self._thread.start()

    def close(self) -> None:
        """Stop and let go of the device; no block is delivered afterwards. Not to be called by `deliver`."""
        thread, self._thread = self._thread, None
        if thread is None:
            return
        self._close_stream()
        self._drain()
        self._queue.put(None)
        thread.join()
        self._close_stream()

    def _open_stream(self) -> Stream:
        wanted = StreamChoice(Role.MICROPHONE, self._device, BLOCK_MILLISECONDS, RATE)
        self._stream = self._audio.open(wanted, self._take)
        return self._stream

    def _close_stream(self) -> None:
        stream, self._stream = self._stream, None
        if stream is not None:
            stream.close()

    def _take(self, frames: Any, _count: int, times: Any, _status: Any) -> None:  # noqa: ANN401 - untyped library
        """PortAudio's callback: copy and queue, nothing else."""
        try:
            self._queue.put_nowait((frames[:, 0].copy(), times.inputBufferAdcTime))
        except queue.Full:
            self.dropped += 1

    def _drain(self) -> None:
        try:
            while True:
                self._queue.get_nowait()
        except queue.Empty:
            pass

    def _serve(self, deliver: Callable[[Block], None], stream: Stream) -> None:
        """Deliver until told to end; a device that fell silent is opened again."""
        self._watchdog, self._blocks = Watchdog(self._audio.clock.now()), _Blocks(stream)
        is_open = True
        while is_open:
            try:
                is_open = self._serve_one(deliver)
            except Exception as error:  # noqa: BLE001 - whatever a library raises is told and survived
                self._failed(error)

    def _serve_one(self, deliver: Callable[[Block], None]) -> bool:
        """Deliver what comes next; False when that is the order to end."""
        try:
            raw = self._queue.get(timeout=LOOK_SECONDS)
        except queue.Empty:
            self._look()
            return True
        if raw is None:
            return False
        for block in self._blocks.make(raw):
            if self._watchdog.is_lost:
                self._changed(False, block.started_at)  # noqa: FBT003 - documented
            self._watchdog = self._watchdog.after_block(self._audio.clock.now())
            deliver(block)
        return True

    def _look(self) -> None:
        """A silent queue: tell once that the device is gone, and try to open it again."""
        now = self._audio.clock.now()
        was_lost, self._watchdog = self._watchdog.is_lost, self._watchdog.after_time(now)
        if self._watchdog.is_lost and not was_lost:
            self._changed(True, now)  # noqa: FBT003 - documented
        if self._watchdog.is_lost and (again := self._reopen()) is not None:
            self._blocks = _Blocks(again)

    def _reopen(self) -> Stream | None:
        """Try once to open the device again; None when it is still gone, or we are being closed."""
        if self._thread is None:
            return None
        self._close_stream()
        try:
            return self._open_stream()
        except AudioError:
            self._audio.renew()
            return None


class _Blocks:
    """Makes blocks of what one stream brings: at 16 kHz, with smooth times."""

    def __init__(self, stream: Stream) -> None:
        self._stream = stream
        self._clock: SampleClock | None = None
        self._resampler = (
            soxr.ResampleStream(stream.rate, RATE, 1, dtype="float32") if stream.rate != RATE else None
        )

    def make(self, raw: Raw) -> list[Block]:
        """None or one block."""
        samples, measured = raw
        seconds = len(samples) / self._stream.rate
        started_at = measured + self._stream.to_epoch
        clock = self._clock
        self._clock = clock.after(started_at, seconds) if clock else SampleClock(started_at, seconds)
        if self._resampler is not None:
            samples = np.asarray(self._resampler.resample_chunk(samples), dtype=np.float32)
        return [Block(samples, self._clock.started_at)] if len(samples) else []
