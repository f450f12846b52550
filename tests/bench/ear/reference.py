"""PocketSphinx as a reference for the bench: what a user would otherwise pick. No dependency of eyesout."""

import importlib
import tempfile
import time
from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np

from runner.voice.port import Block, Guess, Hearing


def grammar(phrases: Iterable[str]) -> str:
    """The phrases as one JSGF expression that shares their beginnings: thousands are searched much faster."""
    nexts: dict[str, list[str]] = {}
    for phrase in dict.fromkeys(phrases):
        word, _, rest = phrase.partition(" ")
        nexts.setdefault(word, []).append(rest)
    return " | ".join(_onward(word, rests) for word, rests in nexts.items())


def _onward(word: str, rests: list[str]) -> str:
    """The word, and what may or must follow it."""
    inside = grammar(rest for rest in rests if rest)
    if not inside:
        return word
    return f"{word} [ {inside} ]" if "" in rests else f"{word} ( {inside} )"


class SphinxEar:
    """PocketSphinx as its wheel ships it, with a grammar of the phrases."""

    name = "pocketsphinx"

    def __init__(self) -> None:
        library: Any = importlib.import_module("pocketsphinx")
        self._decoder: Any = library.Decoder(lm=None, loglevel="FATAL")
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
            file.write(f"#JSGF V1.0;\ngrammar g;\npublic <p> = {grammar(known)};\n")
            file.flush()
            self._decoder.add_jsgf_file("g", file.name)
        self._decoder.activate_search("g")

    def feed(self, block: Block, silence_seconds: float = 0.0) -> Guess:
        """Keep it for the end."""
        del silence_seconds
        self._blocks.append(block)
        return Guess(None)

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
