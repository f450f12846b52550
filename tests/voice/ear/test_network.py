"""The network's frames and errors."""

import numpy as np
import pytest

from runner.errors import ModelError
from runner.place import data_folder
from runner.voice.ear.network import PhoneNetwork, frame_seconds
from runner.voice.ear.network_phone import OUTPUTS
from runner.voice.model.model_store import model_files


def test_a_file_that_is_no_network_is_refused() -> None:
    """With one line that says so."""
    with pytest.raises(ModelError, match="cannot be loaded"):
        PhoneNetwork(b"nothing")


def test_each_frame_is_a_distribution_over_phones_and_blank() -> None:
    """They sum to one; there are as many frames as the convolutions give (arXiv 2410.15608)."""
    network = PhoneNetwork(model_files(data_folder("models"))["ear/ear.onnx"].content())
    samples = np.random.default_rng(0).normal(0, 0.1, 16_000).astype(np.float32)
    posteriors = network.posteriors(samples)
    frames = (((16_000 - 127) // 64 + 1 - 7) // 3 + 1 - 3) // 2 + 1
    assert posteriors.shape == (frames, OUTPUTS)
    assert np.exp(posteriors).sum(1) == pytest.approx(np.ones(frames), abs=1e-3)


def test_frames_are_24_milliseconds_apart() -> None:
    """64 x 3 x 2 samples at 16 kHz."""
    assert frame_seconds(10) - frame_seconds(0) == pytest.approx(0.24)
