"""The built-in ear's neural network: sound in, log probabilities of the 39 phones and blank out."""

import os
from typing import Final

import numpy as np
import numpy.typing as npt

from runner.errors import ModelError
from runner.voice.port import RATE, Samples

# From 1.30 on the library keeps a device id and a database of events in the user's cache and looks up
# a collector's host, unless it finds this when it is loaded; its own call against it comes too late.
os.environ["ORT_DISABLE_TELEMETRY"] = "1"

import onnxruntime

FRAME_SAMPLES: Final = 384
"""Samples from one output frame to the next: 24 ms."""

_FIRST_CENTRE: Final = 447
"""Sample at the middle of what the first frame sees: 63 + 3 x 64 + 192, from the three convolutions."""

_SHORTEST: Final = 4_000
"""Shorter sound is padded with silence to a quarter of a second."""


class PhoneNetwork:
    """Runs on one thread."""

    def __init__(self, content: bytes) -> None:
        """Load an ONNX file (models/train/export.py); ModelError when it cannot be."""
        settings = onnxruntime.SessionOptions()
        settings.intra_op_num_threads = 1
        settings.inter_op_num_threads = 1
        settings.log_severity_level = 3
        try:
            self._session = onnxruntime.InferenceSession(
                content, settings, providers=["CPUExecutionProvider"]
            )
        except Exception as error:  # onnxruntime raises types of its own that it does not export
            raise ModelError(f"the built-in ear's network cannot be loaded: {error}") from error

    def posteriors(self, samples: Samples) -> npt.NDArray[np.float32]:
        """Log probabilities (frames, 40), one frame each 24 ms, the first centred at `frame_seconds(0)`."""
        if len(samples) < _SHORTEST:
            samples = np.pad(samples, (0, _SHORTEST - len(samples)))
        phones: npt.NDArray[np.float32] = self._session.run(None, {"sound": samples[np.newaxis]})[0][0]
        return phones


def frame_seconds(frame: int) -> float:
    """Seconds from the first sample to the middle of a frame."""
    return (frame * FRAME_SAMPLES + _FIRST_CENTRE) / RATE
