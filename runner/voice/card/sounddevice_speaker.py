"""A loudspeaker through sounddevice: one sound at a time, cut short at will, with its true end."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any, Final

from runner.voice.card.portaudio import PortAudio, Role, Stream, StreamChoice
from runner.voice.port import Samples, Sound
from runner.voice.sound import resample

BLOCK_MILLISECONDS: Final = 20
GRACE_SECONDS: Final = 2.0
"""A sound that is not over so long after its length never will be: its device is gone."""


class SounddeviceSpeaker:
    """Keeps one stream open, so that a prompt starts at once.

    `ended` is called on PortAudio's thread (on the caller's when cut short): put the time in a queue,
    and do nothing else there.
    """

    def __init__(self, audio: PortAudio, device: str = "") -> None:
        self._audio, self._device = audio, device
        self._stream: Stream | None = None
        self._playback: _Playback | None = None

    def play(self, sound: Sound, ended: Callable[[float], None]) -> None:
        """Play, cutting short what plays now, and tell the second of its end; AudioError without a device."""
        self.stop()
        stream = self._get_stream()
        samples = resample(sound, stream.rate).samples
        playback = _Playback(samples, ended)
        playback.watch(sound.seconds + GRACE_SECONDS, lambda: self._lose(playback))
        self._playback = playback

    def stop(self) -> None:
        """Cut short what plays now; what is already under way sounds a moment longer."""
        playback, self._playback = self._playback, None
        if playback is not None:
            playback.end(max(playback.leaves_at, self._audio.clock.now()))

    def close(self) -> None:
        """Let go of the device."""
        self.stop()
        self._close_stream()

    def _get_stream(self) -> Stream:
        if self._stream is None or not self._stream.is_alive:
            self._close_stream()
            wanted = StreamChoice(Role.LOUDSPEAKER, self._device, BLOCK_MILLISECONDS)
            self._stream = self._audio.open(wanted, self._fill, lambda: self._playback is not None)
        return self._stream

    def _close_stream(self) -> None:
        stream, self._stream = self._stream, None
        if stream is not None:
            stream.close()

    def _lose(self, playback: _Playback) -> None:
        """The device has stopped taking sound: say that it is over, and open it anew for the next."""
        if self._playback is playback:
            self._playback = None
        playback.end(self._audio.clock.now())
        self._close_stream()

    def _fill(self, out: Any, count: int, times: Any, _status: Any) -> None:  # noqa: ANN401 - untyped library
        """PortAudio's callback."""
        stream, playback = self._stream, self._playback
        out.fill(0.0)
        if stream is None or playback is None:
            return
        piece = playback.take(count)
        out[: len(piece), 0] = piece
        if len(piece):
            playback.leaves_at = times.outputBufferDacTime + stream.to_epoch + len(piece) / stream.rate
        if playback.is_taken and times.currentTime + stream.to_epoch >= playback.leaves_at:
            self._playback = None if self._playback is playback else self._playback
            playback.end(playback.leaves_at)


class _Playback:
    """One sound on its way out."""

    def __init__(self, samples: Samples, ended: Callable[[float], None]) -> None:
        self._samples = samples
        self._position = 0
        self._ended = ended
        self.leaves_at = 0.0
        """When the newest sample that was taken has left the loudspeaker, seconds since the epoch."""
        self._is_ended = threading.Lock()
        self._timer: threading.Timer | None = None

    def watch(self, seconds: float, lost: Callable[[], None]) -> None:
        """Call `lost` unless the sound is over by then."""
        self._timer = threading.Timer(seconds, lost)
        self._timer.daemon = True
        self._timer.name = "loudspeaker watch"
        self._timer.start()

    def take(self, count: int) -> Samples:
        """The next samples, fewer at the end."""
        piece = self._samples[self._position : self._position + count]
        self._position += len(piece)
        return piece

    @property
    def is_taken(self) -> bool:
        """Nothing is left to be taken."""
        return self._position >= len(self._samples)

    def end(self, at: float) -> None:
        """Tell the end, once."""
        if not self._is_ended.acquire(blocking=False):
            return
        if self._timer is not None:
            self._timer.cancel()
        self._ended(at)
