"""Sound clips of spoken notes, kept beside the logbook under names that sort by time."""

from dataclasses import dataclass
from pathlib import Path

from runner.voice.port import RATE, Samples, Sound
from runner.voice.sound import write_sound


@dataclass(slots=True)
class ClipFolder:
    """Clips of one run."""

    folder: Path
    run: str
    count: int = 0

    def keep(self, samples: Samples) -> str:
        """Write the sound and give the clip's name; AudioError when it cannot be written."""
        self.count += 1
        name = f"{self.run}-note-{self.count}.wav"
        while (self.folder / name).exists():
            self.count += 1
            name = f"{self.run}-note-{self.count}.wav"
        write_sound(self.folder / name, Sound(samples, RATE))
        return name
