"""Sound clips of spoken notes, kept beside the logbook under names that the record proves."""

from dataclasses import dataclass
from pathlib import Path

from runner.logbook.record.clip_file import keep_clip
from runner.voice.port import RATE, Samples, Sound
from runner.voice.sound import write_sound


@dataclass(slots=True)
class ClipFolder:
    """Clips of one run."""

    folder: Path
    run: str

    def keep(self, samples: Samples) -> str:
        """Write the sound and give the clip's name; AudioError or RecordError when it cannot be written."""
        path = self.folder / f".{self.run}-note.wav"
        write_sound(path, Sound(samples, RATE))
        try:
            return keep_clip(self.folder, path.read_bytes())
        finally:
            path.unlink()
