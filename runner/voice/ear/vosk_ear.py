"""An ear on Vosk: any model folder in Vosk's format hears the expected phrases, or none.

Vosk's grammar is a model of word pairs and not a list of phrases, so its text counts only when it is
one of the phrases word for word; anything with an unknown word in it is refused. A model that has
no unknown word hears with its whole vocabulary instead, so that other speech still comes out as other words.
"""

from __future__ import annotations

import contextlib
import json
import os
import socket
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np

from runner.errors import ModelError
from runner.language.catalogue import Unit
from runner.voice.port import RATE, Block, Guess, Hearing, More

UNKNOWN: Final = "[unk]"
"""Vosk's word for what is none of the expected ones."""
STEADY_BLOCKS: Final = 3
"""A guess counts as settled when it has not changed for so many blocks."""


@dataclass(frozen=True, slots=True)
class _Word:
    """A word that Vosk heard; times in seconds of the sound fed since the recogniser was made."""

    word: str
    start: float
    end: float
    conf: float


class VoskEar:
    """Hears with the model in `folder`; ModelError when there is none, or it cannot be loaded.

    `unknown` is the model's word for anything that is not expected; `name` replaces the folder's name.
    A phrase whose least sure word is below `threshold` (0 to 1) is refused.
    """

    def __init__(self, folder: Path, unknown: str = UNKNOWN, name: str = "", threshold: float = 0.0) -> None:
        self.name = f"vosk {name or folder.name}"
        self._unknown, self._threshold = unknown, threshold
        self._library, self._model = _load(folder)
        self._phrases: frozenset[str] = frozenset()
        self._next_phrases = self._phrases
        self._engine: Any = None
        self._next_engine: Any = None
        self._fed = 0
        self._blocks: list[tuple[int, float]] = []
        self._words: tuple[_Word, ...] = ()
        self._last, self._steady, self._compute = "", 0, 0.0

    def missing_words(self, phrases: Sequence[str]) -> tuple[str, ...]:
        """Words that the model's dictionary lacks, each once, in their order."""
        words = dict.fromkeys(word for phrase in phrases for word in phrase.split())
        return tuple(word for word in words if not self._knows(word))

    def expect(self, phrases: Sequence[str]) -> None:
        """From the next utterance on, only these phrases can come out.

        Phrases with a missing word are left out: Vosk would quietly shorten them.
        """
        known = frozenset(phrase for phrase in phrases if not self.missing_words((phrase,)))
        self._next_engine = self._make_engine(known)
        self._next_phrases = known
        if not self._blocks:
            self._begin()

    def feed(self, block: Block, silence_seconds: float = 0.0) -> Guess:
        """Take in the next block of an utterance; Vosk hears as the sound comes, in silence and in speech."""
        del silence_seconds
        started = time.thread_time()
        self._blocks.append((self._fed, block.started_at))
        self._fed += len(block.samples)
        if self._engine.AcceptWaveform(_to_bytes(block)):
            # Vosk saw a pause; the endpoint is ours, so what it heard so far is kept.
            self._words += _get_words(self._engine.Result())
        text = " ".join([*(word.word for word in self._words), *self._partial_words()])
        self._steady = self._steady + 1 if text == self._last else 0
        self._last = text
        self._compute += time.thread_time() - started
        return Guess(text if text in self._phrases else None, self._more(text))

    def finish(self) -> Hearing:
        """The utterance is over: say what it was, and be ready for the next."""
        started = time.thread_time()
        words = (*self._words, *_get_words(self._engine.FinalResult()))
        text = " ".join(word.word for word in words)
        onset_at, ended_at = self._get_span(words)
        compute = self._compute + time.thread_time() - started
        confidence = min(1.0, max(0.0, min((word.conf for word in words), default=0.0)))
        taken = text if text in self._phrases and confidence >= self._threshold else None
        self._begin()
        return Hearing(taken, confidence, onset_at, ended_at, compute)

    def _begin(self) -> None:
        """Start an utterance, with the newest phrases."""
        if self._next_engine is not None:
            self._engine, self._next_engine = self._next_engine, None
            self._phrases = self._next_phrases
            self._fed = 0
        elif self._engine is not None:
            self._engine.Reset()
        self._blocks, self._words = [], ()
        self._last, self._steady, self._compute = "", 0, 0.0

    def _make_engine(self, phrases: frozenset[str]) -> Any:  # noqa: ANN401 - an untyped library
        arguments: tuple[Any, ...] = (self._model, RATE)
        if self._knows(self._unknown):
            arguments = (*arguments, json.dumps([*sorted(phrases), self._unknown], ensure_ascii=False))
        engine = self._library.KaldiRecognizer(*arguments)
        engine.SetWords(True)  # noqa: FBT003 - the library's own signature
        return engine

    def _knows(self, word: str) -> bool:
        return bool(self._model.vosk_model_find_word(word) >= 0)

    def _partial_words(self) -> list[str]:
        return str(json.loads(self._engine.PartialResult()).get("partial", "")).split()

    def _more(self, text: str) -> More:
        if text not in self._phrases or self._steady < STEADY_BLOCKS:
            return More.UNKNOWN
        rests = {phrase[len(text) :].strip() for phrase in self._phrases if phrase.startswith(f"{text} ")}
        if not rests:
            return More.NOTHING
        return More.UNIT if rests <= {*Unit, *(unit.singular for unit in Unit)} else More.WORDS

    def _get_span(self, words: Sequence[_Word]) -> tuple[float, float]:
        """When the words began and ended on the audio clock; the whole utterance when there are none."""
        if not self._blocks:
            return 0.0, 0.0
        if not words:
            first, (last, last_at) = self._blocks[0][1], self._blocks[-1]
            return first, last_at + (self._fed - last) / RATE
        return self._to_epoch(words[0].start), self._to_epoch(words[-1].end)

    def _to_epoch(self, seconds: float) -> float:
        """A time in the sound that was fed, on the audio clock; blocks may have gaps between them."""
        sample = seconds * RATE
        offset, started_at = next(
            (pair for pair in reversed(self._blocks) if pair[0] <= sample), self._blocks[0]
        )
        return started_at + (sample - offset) / RATE


def _load(folder: Path) -> tuple[Any, Any]:
    """The library, silenced, and the model."""
    if not (folder / "am" / "final.mdl").exists():
        raise ModelError(
            f"{folder}: not a Vosk model (am/final.mdl is missing); name an unpacked model folder"
        )
    try:
        with _without_trial_of_network():
            import vosk  # noqa: PLC0415 - loads a large library, wanted by this ear alone
    except (ImportError, OSError) as error:
        raise ModelError(
            f"vosk cannot be loaded ({error}); pip install vosk, or use the built-in ear"
        ) from None
    vosk.SetLogLevel(-1)
    try:
        with _silenced():
            model = vosk.Model(str(folder))
    except Exception:  # noqa: BLE001 - the library raises nothing more exact
        raise ModelError(f"{folder}: Vosk cannot load this model; unpack it again") from None
    return vosk, model


@contextlib.contextmanager
def _silenced() -> Iterator[None]:
    """Keep a library's own error lines, which its log level does not stop, off the user's screen."""
    kept, nowhere = os.dup(2), os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 2)
        yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)
        os.close(nowhere)


def _to_bytes(block: Block) -> bytes:
    """16-bit samples, as Vosk wants them."""
    return (np.clip(block.samples, -1.0, 1.0) * 32767.0).astype("<i2").tobytes()


def _get_words(reply: str) -> tuple[_Word, ...]:
    return tuple(_Word(**word) for word in json.loads(reply).get("result", ()))


@contextlib.contextmanager
def _without_trial_of_network() -> Iterator[None]:
    """While vosk is imported: the library for downloads that comes with it tries a socket at once."""
    had_ipv6, socket.has_ipv6 = socket.has_ipv6, False
    try:
        yield
    finally:
        socket.has_ipv6 = had_ipv6
