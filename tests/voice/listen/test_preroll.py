"""The pre-roll, filled with numbered blocks."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from runner.voice.listen.preroll import PreRoll
from runner.voice.port import RATE, Block


@given(st.lists(st.integers(1, 2000), max_size=60), st.floats(0.0, 1.0))
def test_it_keeps_the_newest_blocks_and_no_more_than_it_must(lengths: list[int], seconds: float) -> None:
    """What is kept is a tail of what came, long enough, and too short without its oldest block."""
    blocks = [Block(np.zeros(length, np.float32), float(n)) for n, length in enumerate(lengths)]
    preroll = PreRoll(seconds)
    for block in blocks:
        preroll = preroll.after(block)
    kept = [block.started_at for block in preroll.blocks]
    assert kept == [float(n) for n in range(len(blocks))][len(blocks) - len(kept) :]
    total = sum(block.seconds for block in preroll.blocks)
    assert total >= min(seconds, sum(lengths) / RATE) - 1e-9
    assert sum(block.seconds for block in preroll.blocks[1:]) < seconds or len(kept) <= 1


def test_emptied_it_keeps_its_length_alone() -> None:
    """After a prompt nothing of before is left."""
    full = PreRoll(0.4).after(Block(np.zeros(480, np.float32), 0.0))
    assert full.emptied() == PreRoll(0.4)
