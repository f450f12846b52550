"""The echo gate: keeps the tool from hearing its own prompts, by time and not by loudness."""

from dataclasses import dataclass, replace

from runner.voice.port import Block


@dataclass(frozen=True, slots=True)
class EchoGate:
    """What the loudspeaker did so far, asked for each block; `after_...` give the next value."""

    playing: bool = False
    """A prompt is being played."""
    ended_at: float = 0.0
    """When the last prompt truly ended, seconds since the epoch on the audio clock."""
    tail: float = 0.15
    """Seconds that the room goes on sounding after a prompt."""
    has_headset: bool = False
    """The microphone cannot hear the loudspeaker: the pilot may speak into a prompt."""

    def after_start(self) -> "EchoGate":
        """A prompt begins."""
        return replace(self, playing=True)

    def after_end(self, at: float) -> "EchoGate":
        """The prompt has truly ended (the loudspeaker's own word, latency included)."""
        return replace(self, playing=False, ended_at=at)

    def lets_through(self, block: Block) -> bool:
        """Whether the block holds nothing of a prompt; judged by when it was recorded, not by now."""
        if self.has_headset:
            return True
        return not self.playing and block.started_at >= self.ended_at + self.tail
