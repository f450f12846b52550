"""Pre-roll: the last moments before speech was noticed, so that its first sound is not cut."""

from dataclasses import dataclass, replace

from runner.voice.port import Block


@dataclass(frozen=True, slots=True)
class PreRoll:
    """The newest blocks, oldest first; `after` gives the next value."""

    seconds: float = 0.5
    """At least this much is kept, once it has been heard."""
    blocks: tuple[Block, ...] = ()

    def after(self, block: Block) -> "PreRoll":
        """With one more block at the end, and without what is too old."""
        blocks = (*self.blocks, block)
        while len(blocks) > 1 and sum(kept.seconds for kept in blocks[1:]) >= self.seconds:
            blocks = blocks[1:]
        return replace(self, blocks=blocks)

    def emptied(self) -> "PreRoll":
        """The same length, with nothing in it."""
        return replace(self, blocks=())
