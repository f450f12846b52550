"""Answers at home: lines that are typed, or said into a microphone; the eyes are on the screen either way."""

from __future__ import annotations

import argparse
import queue
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Protocol, TextIO

from runner.errors import AudioError
from runner.session.engine import BUILTIN, ENGINE_HELP, make_recogniser
from runner.session.live.interpreter import SURE_FROM
from runner.voice.card.audio_clock import start_clock
from runner.voice.card.portaudio import PortAudio
from runner.voice.card.sounddevice_microphone import SounddeviceMicrophone
from runner.voice.listen.listener import Listener
from runner.voice.listen.result import UtteranceHeard
from runner.voice.port import Block, Hearing, Recogniser


@dataclass(frozen=True, slots=True)
class AnswerLine:
    """One line as it came."""

    text: str
    """Empty for an empty line, and for what an ear could not make out."""
    is_over: bool = False
    """No more will come."""
    is_unclear: bool = False
    """Something was said, and it was none of the phrases for sure."""
    is_heard: bool = False
    """By an ear, which may be wrong."""


class Answers(Protocol):
    """Where lines come from."""

    def read(self, prompt: str, phrases: Sequence[str]) -> AnswerLine:
        """The next line; the phrases are all that an ear may hear."""
        ...


class TypedAnswers:
    """Lines from the keyboard, or a pipe."""

    def __init__(self, out: TextIO) -> None:
        self._out = out

    def read(self, prompt: str, _phrases: Sequence[str]) -> AnswerLine:
        """Whatever is typed."""
        self._out.write(prompt)
        self._out.flush()
        line = sys.stdin.readline()
        return AnswerLine(line.strip(), is_over=not line)


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


class SpokenAnswers:
    """Lines that are said; `words` are spoken words that stand for a typed one."""

    def __init__(self, lines: SpokenLines, out: TextIO, words: Mapping[str, str]) -> None:
        self._lines, self._out, self._words = lines, out, words

    def read(self, prompt: str, phrases: Sequence[str]) -> AnswerLine:
        """What was understood is shown at once, so that a mistake is seen."""
        self._out.write(prompt)
        self._out.flush()
        hearing = self._lines.hear((*phrases, *self._words))
        is_sure = hearing.text is not None and hearing.confidence >= SURE_FROM
        text = (hearing.text or "") if is_sure else ""
        self._out.write(f"{text or 'not understood'}\n")
        return AnswerLine(self._words.get(text, text), is_unclear=not is_sure, is_heard=True)


def picked_number(words: str, count: int) -> int | None:
    """The number, from 1, that was typed to pick one of so many; None for any other words."""
    return next((number for number in range(1, count + 1) if words.lstrip("0") == str(number)), None)


def add_listening(parser: argparse.ArgumentParser) -> None:
    """Whether lines are said, and into what."""
    parser.add_argument("--listen", action="store_true", help="say the answers into a microphone")
    parser.add_argument("--microphone", default="", metavar="DEVICE", help="number or part of its name")
    parser.add_argument("--engine", default=BUILTIN, help=ENGINE_HELP)


@contextmanager
def answers_of(arguments: argparse.Namespace, out: TextIO, words: Mapping[str, str]) -> Iterator[Answers]:
    """Lines as they are asked for; AudioError where there is no microphone to listen with."""
    if not arguments.listen:
        yield TypedAnswers(out)
        return
    blocks: queue.Queue[Block | None] = queue.Queue()
    microphone = SounddeviceMicrophone(
        PortAudio(start_clock()),
        arguments.microphone,
        lambda is_lost, _at: blocks.put(None) if is_lost else None,
    )
    ear = make_recogniser(arguments.engine)
    microphone.open(blocks.put)
    try:
        yield SpokenAnswers(SpokenLines(ear, lambda: _next(blocks)), out, words)
    finally:
        microphone.close()


def _next(blocks: queue.Queue[Block | None]) -> Block:
    block = blocks.get()
    if block is None:
        raise AudioError("the microphone is gone; plug it in, or go on without --listen")
    return block
