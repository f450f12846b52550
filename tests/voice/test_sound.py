"""Sound files and rates, with files written by libsndfile itself."""

from pathlib import Path

import numpy as np
import pytest
import soundfile

from runner.errors import AudioError
from runner.voice.port import RATE, Samples, Sound
from runner.voice.sound import get_blocks, read_sound, resample, trim, write_sound


def sine(hertz: float, rate: int, seconds: float = 0.5) -> Samples:
    """A tone at half of full scale."""
    times = np.arange(round(rate * seconds)) / rate
    return (0.5 * np.sin(2.0 * np.pi * hertz * times)).astype(np.float32)


def get_pitch(sound: Sound) -> float:
    """The loudest frequency."""
    spectrum = np.abs(np.fft.rfft(sound.samples))
    return float(np.argmax(spectrum)) * sound.rate / len(sound.samples)


@pytest.mark.parametrize(
    ("suffix", "subtype", "rate"),
    [("wav", "PCM_16", 22_050), ("flac", "PCM_16", 16_000), ("ogg", "OPUS", 48_000), ("wav", "FLOAT", 8_000)],
)
def test_every_kind_of_file_is_read_at_its_own_rate(
    tmp_path: Path, suffix: str, subtype: str, rate: int
) -> None:
    """WAV, FLAC and Opus hold the same tone after reading."""
    path = tmp_path / f"tone.{suffix}"
    soundfile.write(path, sine(440.0, rate), rate, subtype=subtype)
    sound = read_sound(path)
    assert sound.rate == rate
    assert sound.samples.dtype == np.dtype(np.float32)
    assert get_pitch(sound) == pytest.approx(440.0, abs=3.0)


def test_channels_are_averaged(tmp_path: Path) -> None:
    """A stereo file with one silent side is half as strong in mono."""
    path = tmp_path / "stereo.wav"
    left = sine(440.0, RATE)
    soundfile.write(path, np.stack([left, np.zeros_like(left)], axis=1), RATE, subtype="FLOAT")
    assert read_sound(path).samples == pytest.approx(left / 2.0)


def test_what_is_written_is_read_back(tmp_path: Path) -> None:
    """To the last bit but one of 16; what exceeds full scale is clipped and does not wrap round."""
    path = tmp_path / "new" / "tone.wav"
    samples = np.concatenate([sine(440.0, RATE), np.array([1.5, -1.5], np.float32)])
    write_sound(path, Sound(samples, RATE))
    assert read_sound(path).samples == pytest.approx(np.clip(samples, -1.0, 1.0), abs=2.0**-14)
    assert [entry.name for entry in path.parent.iterdir()] == ["tone.wav"]


def test_a_failed_write_leaves_nothing_behind(tmp_path: Path) -> None:
    """A folder in the way is told of, and no temporary file stays."""
    (tmp_path / "tone.wav").mkdir()
    with pytest.raises(AudioError, match="cannot be written"):
        write_sound(tmp_path / "tone.wav", Sound(sine(440.0, RATE), RATE))
    assert [entry.name for entry in tmp_path.iterdir()] == ["tone.wav"]


@pytest.mark.parametrize("content", [None, b"", b"words and no sound"])
def test_what_is_no_sound_is_told_of_in_one_line(tmp_path: Path, content: bytes | None) -> None:
    """A missing, an empty and a text file name themselves and what may be used."""
    path = tmp_path / "x.wav"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(
        AudioError, match=r"x\.wav: cannot be read as sound .*; use WAV, FLAC or Opus"
    ) as caught:
        read_sound(path)
    assert "\n" not in str(caught.value)


def test_resampling_keeps_length_and_pitch() -> None:
    """22,050 to 16,000 samples a second, as for every rendered prompt of the scripted pilot."""
    sound = resample(Sound(sine(440.0, 22_050), 22_050), RATE)
    assert (sound.rate, len(sound.samples)) == (RATE, RATE // 2)
    assert get_pitch(sound) == pytest.approx(440.0, abs=3.0)


def test_nothing_stays_nothing_at_any_rate() -> None:
    """An empty sound can be resampled and trimmed."""
    empty = Sound(np.zeros(0, np.float32), 22_050)
    assert len(resample(empty, RATE).samples) == len(trim(empty).samples) == 0
    assert len(trim(Sound(np.zeros(100, np.float32), RATE)).samples) == 0


def test_trimming_takes_the_silence_off_both_ends() -> None:
    """A hundredth of a second is left on each side."""
    silence = np.zeros(RATE, np.float32)
    sound = trim(Sound(np.concatenate([silence, np.full(RATE, 0.5, np.float32), silence]), RATE))
    assert sound.seconds == pytest.approx(1.02, abs=0.001)


def test_blocks_hold_all_samples_and_follow_each_other() -> None:
    """30 ms each, the last one shorter."""
    samples = sine(440.0, RATE)[:1000]
    blocks = get_blocks(samples, 50.0)
    assert [len(block.samples) for block in blocks] == [480, 480, 40]
    assert [block.started_at for block in blocks] == pytest.approx([50.0, 50.03, 50.06])
    assert np.array_equal(np.concatenate([block.samples for block in blocks]), samples)
