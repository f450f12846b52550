"""Reference engines for the bench: what a user would otherwise pick. Not dependencies of eyesout."""

import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np

from runner.voice.port import Block, Guess, Hearing
from tests.bench.ear.training import transcribe


class SphinxEar:
    """PocketSphinx as its wheel ships it, with a grammar of the phrases."""

    name = "pocketsphinx"

    def __init__(self) -> None:
        from pocketsphinx import (  # type: ignore[import-not-found]  # noqa: PLC0415 - only where it is installed
            Decoder,
        )

        self._decoder: Any = Decoder(lm=None, loglevel="FATAL")
        self._phrases: tuple[str, ...] = ()
        self._blocks: list[Block] = []

    def missing_words(self, phrases: Sequence[str]) -> tuple[str, ...]:
        """Words that its dictionary lacks."""
        words = {word for phrase in phrases for word in phrase.split()}
        return tuple(word for word in words if self._decoder.lookup_word(word) is None)

    def expect(self, phrases: Sequence[str]) -> None:
        """Compile the grammar when it changes."""
        if tuple(phrases) == self._phrases:
            return
        self._phrases = tuple(phrases)
        missing = set(self.missing_words(phrases))
        known = [phrase for phrase in phrases if not missing & set(phrase.split())]
        with tempfile.NamedTemporaryFile("w", suffix=".gram") as file:
            file.write("#JSGF V1.0;\ngrammar g;\npublic <p> = " + " | ".join(known) + ";\n")
            file.flush()
            self._decoder.add_jsgf_file("g", file.name)
        self._decoder.activate_search("g")

    def feed(self, block: Block) -> Guess:
        """Keep it for the end."""
        self._blocks.append(block)
        return Guess(None, is_settled=False)

    def finish(self) -> Hearing:
        """Decode."""
        started = time.thread_time()
        samples = np.concatenate([block.samples for block in self._blocks])
        self._decoder.start_utt()
        self._decoder.process_raw((samples * 32767).astype(np.int16).tobytes(), full_utt=True)
        self._decoder.end_utt()
        found = self._decoder.hyp()
        at, self._blocks = self._blocks[0].started_at, []
        return Hearing(found.hypstr if found else None, 1.0, at, at, time.thread_time() - started)


class MoonshineEar:
    """The whole Moonshine tiny model made to choose among the phrases: the best-scoring one always wins.

    For up to 60 phrases; the folder is `assets/tiny-en` of the wheel moonshine-voice 0.0.59.
    """

    name = "moonshine"

    def __init__(self, folder: Path) -> None:
        self._transcriber = transcribe.Transcriber(folder)
        self._phrases: tuple[str, ...] = ()
        self._blocks: list[Block] = []

    def missing_words(self, phrases: Sequence[str]) -> tuple[str, ...]:  # noqa: ARG002 - it can spell anything
        """None."""
        return ()

    def expect(self, phrases: Sequence[str]) -> None:
        """Remember."""
        self._phrases = tuple(phrases)

    def feed(self, block: Block) -> Guess:
        """Keep it for the end."""
        self._blocks.append(block)
        return Guess(None, is_settled=False)

    def finish(self) -> Hearing:
        """Score every phrase."""
        started = time.thread_time()
        samples = np.concatenate([block.samples for block in self._blocks])
        scores = self._transcriber.scores(samples, [f"{p[0].upper()}{p[1:]}." for p in self._phrases])
        at, self._blocks = self._blocks[0].started_at, []
        best = self._phrases[int(np.argmax(scores))]
        return Hearing(best, 1.0, at, at, time.thread_time() - started)
