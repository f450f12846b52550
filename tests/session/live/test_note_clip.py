from pathlib import Path

import numpy as np

from runner.logbook.record.clip_file import read_clip
from runner.session.live.note_clip import ClipFolder
from runner.voice.port import RATE
from runner.voice.sound import read_sound


def test_a_spoken_note_is_kept_under_the_hash_of_its_file(tmp_path: Path) -> None:
    """It reads back as the sound it was, to 16 bits, and nothing else is left in the folder."""
    samples = np.sin(np.arange(RATE, dtype=np.float32) / 20) * np.float32(0.5)
    folder = tmp_path / "clips"
    name = ClipFolder(folder, "run-1").keep(samples)
    assert [path.name for path in folder.iterdir()] == [name]
    assert read_clip(folder, name)
    assert np.max(np.abs(read_sound(folder / name).samples - samples)) < 1 / 32_000
