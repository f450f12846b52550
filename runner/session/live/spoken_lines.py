"""Spoken lines: what is said into a microphone, one after the other, by the phrases that may come."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from runner.voice.listen.listener import Listener
from runner.voice.listen.result import UtteranceHeard
from runner.voice.port import Block, Hearing, Recogniser


class SpokenLines:
    """An ear at a microphone; `next_block` waits for sound and raises AudioError when there is no more."""

    def __init__(self, ear: Recogniser, next_block: Callable[[], Block]) -> None:
        self._listener, self._next_block = Listener(ear), next_block
        self._turn = 0

    def hear(self, phrases: Sequence[str]) -> Hearing:
        """The next thing that is said: one of the phrases, or nothing that is known."""
        self._turn += 1
        self._listener.expect(self._turn, phrases)
        while True:
            for result in self._listener.hear(self._next_block()):
                if isinstance(result, UtteranceHeard) and result.turn == self._turn:
                    return result.hearing
