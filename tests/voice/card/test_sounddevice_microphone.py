"""The microphone's thread lives through what the sound library raises."""

import queue
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import numpy as np

from runner.voice.card.audio_clock import start_clock
from runner.voice.card.sounddevice_microphone import SounddeviceMicrophone, Watchdog
from runner.voice.port import RATE, Block

WAIT_SECONDS = 20.0


class _Audio:
    """A sound library whose stream brings what it is told to."""

    def __init__(self) -> None:
        self.clock = start_clock()
        self.bring: Callable[..., None] = lambda *_: None

    def open(self, _wanted: object, callback: Callable[..., None]) -> Any:
        """A stream that can be closed."""
        self.bring = callback
        return SimpleNamespace(rate=RATE, to_epoch=0.0, close=lambda: None)

    def block(self, samples: Any) -> None:
        """PortAudio's callback."""
        self.bring(samples, len(samples), SimpleNamespace(inputBufferAdcTime=self.clock.now()), None)


def test_an_error_is_told_and_the_next_block_is_delivered() -> None:
    """The thread goes on; closing ends it."""
    audio, failures, blocks = _Audio(), queue.Queue[Exception](), queue.Queue[Block]()
    library: Any = audio
    microphone = SounddeviceMicrophone(library, failed=failures.put)

    def deliver(block: Block) -> None:
        if not block.samples.any():
            raise RuntimeError("a library let us down")
        blocks.put(block)

    microphone.open(deliver)
    audio.block(np.zeros((480, 1), np.float32))
    assert str(failures.get(timeout=WAIT_SECONDS)) == "a library let us down"
    audio.block(np.ones((480, 1), np.float32))
    assert len(blocks.get(timeout=WAIT_SECONDS).samples) == 480
    microphone.close()
    assert failures.empty()


def test_a_microphone_that_delivers_is_there() -> None:
    """A block within the limit keeps it alive."""
    watchdog = Watchdog(100.0).after_block(101.0).after_time(102.0)
    assert not watchdog.is_lost


def test_silence_of_the_device_for_the_limit_is_loss() -> None:
    """From the last block, or from the opening when none ever came."""
    assert Watchdog(100.0).after_time(101.5).is_lost
    assert Watchdog(100.0).after_block(101.0).after_time(102.5).is_lost
    assert not Watchdog(100.0).after_block(101.0).after_time(102.4).is_lost


def test_one_block_brings_it_back() -> None:
    """Lost until a block comes, and only then."""
    lost = Watchdog(100.0).after_time(102.0)
    assert lost.after_time(101.0).is_lost
    assert not lost.after_block(102.1).is_lost


def test_a_late_block_does_not_turn_time_back() -> None:
    """An older block does not make the newest look older."""
    assert Watchdog(100.0).after_block(105.0).after_block(104.0).last_at == 105.0
