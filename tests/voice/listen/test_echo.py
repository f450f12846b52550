"""The echo gate, asked about blocks with made-up times."""

import numpy as np
import pytest

from runner.voice.listen.echo import EchoGate
from runner.voice.port import Block

BLOCK = np.zeros(480, np.float32)


def test_the_gate_is_open_before_the_first_prompt() -> None:
    """Nothing has been played: everything is heard."""
    assert EchoGate().lets_through(Block(BLOCK, 100.0))


def test_the_gate_is_shut_while_a_prompt_plays() -> None:
    """No block passes, whenever it was recorded."""
    gate = EchoGate().after_start()
    assert not gate.lets_through(Block(BLOCK, 100.0))


@pytest.mark.parametrize(("started_at", "is_heard"), [(99.9, False), (100.1, False), (100.2, True)])
def test_the_gate_opens_a_tail_after_the_true_end(started_at: float, is_heard: bool) -> None:  # noqa: FBT001 - a table
    """A block that arrives late but was recorded during the prompt or its tail stays out."""
    gate = EchoGate(tail=0.15).after_start().after_end(100.0)
    assert gate.lets_through(Block(BLOCK, started_at)) is is_heard


def test_the_next_prompt_shuts_it_again() -> None:
    """Start, end, start: shut."""
    gate = EchoGate().after_start().after_end(100.0).after_start()
    assert not gate.lets_through(Block(BLOCK, 200.0))


def test_with_a_headset_the_gate_is_always_open() -> None:
    """The microphone cannot hear the loudspeaker."""
    assert EchoGate(has_headset=True).after_start().lets_through(Block(BLOCK, 100.0))
