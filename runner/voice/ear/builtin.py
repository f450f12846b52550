"""The built-in ear: a phone network and a strict search, so that only a phrase in force can come out."""

import time
from collections.abc import Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Final

import numpy as np

from runner.voice.ear.calibration import read_calibration
from runner.voice.ear.decode import Decoding, decode
from runner.voice.ear.graph import Graph, phrase_graph
from runner.voice.ear.lexicon import Lexicon
from runner.voice.ear.network import PhoneNetwork, frame_seconds
from runner.voice.model.model_store import model_files
from runner.voice.port import RATE, Block, Guess, Hearing, Samples

_STEP: Final = int(0.09 * RATE)
"""Samples of new sound after which the utterance so far is heard again."""

_LONGEST: Final = 12 * RATE
"""Of a longer utterance only the last 12 seconds are heard."""

_QUIET_FRAMES: Final = 4
"""Frames of silence (0.1 s) after a phrase before it may be settled early."""

_ONSET_LEAD_SECONDS: Final = 0.04
"""A phone is seen in its middle; it began about so much earlier (measured: median error 0.005 s)."""

_END_LAG_SECONDS: Final = 0.05
"""And the last phone ends about so much later."""


class BuiltinEar:
    """Implements the port `Recogniser` with the files in `models/ear`."""

    name = "builtin"

    def __init__(
        self,
        models: Path,
        pronounce: Mapping[str, tuple[str, ...]] | None = None,
        threshold: float | None = None,
    ) -> None:
        """Load and verify the files; `pronounce` is the check file's (word to `T UW` spellings).

        `threshold` (0 to 1) replaces the calibration's own.
        """
        files = model_files(models)
        self._network = PhoneNetwork(files["ear/ear.onnx"].content())
        self._calibration = read_calibration(files["ear/calibration.json"].content()).with_threshold(
            threshold
        )
        self._lexicon = Lexicon(pronounce)
        self._graph_of = lru_cache(maxsize=64)(self._graph_for)
        self._expected: Graph | None = None
        self._graph: Graph | None = None
        self._blocks: list[Block] = []
        self._samples = self._heard_samples = 0
        self._compute_seconds = 0.0
        self._guess = Guess(None, is_settled=False)
        self._last: tuple[Decoding | None, float] = (None, 0.0)

    def missing_words(self, phrases: Sequence[str]) -> tuple[str, ...]:
        """Words that have no letters to pronounce (figures, signs); every other word can be heard."""
        words = dict.fromkeys(word for phrase in phrases for word in phrase.split())
        return tuple(word for word in words if not self._lexicon.pronunciations(word))

    def expect(self, phrases: Sequence[str]) -> None:
        """From the next utterance on, only these phrases can come out; those with missing words cannot."""
        self._expected = self._graph_of(tuple(phrases))

    def feed(self, block: Block) -> Guess:
        """Take in a block; about every tenth of a second the whole utterance so far is heard again."""
        if not self._blocks:
            self._graph = self._expected
        self._blocks.append(block)
        self._samples += len(block.samples)
        if self._samples - self._heard_samples >= _STEP:
            self._heard_samples = self._samples
            self._guess = self._guessed()
        return self._guess

    def finish(self) -> Hearing:
        """Hear the utterance a last time, unless nothing new can have come, and forget it."""
        if self._samples != self._heard_samples and not self._guess.is_settled:
            self._hear()
        found, started_at = self._last
        ended_at = self._blocks[-1].ended_at if self._blocks else 0.0
        spent, self._compute_seconds = self._compute_seconds, 0.0
        self._blocks, self._samples, self._heard_samples = [], 0, 0
        self._guess, self._last = Guess(None, is_settled=False), (None, 0.0)
        if found is None:
            return Hearing(None, 0.0, started_at, ended_at, spent)
        probability = self._calibration.probability(found)
        return Hearing(
            text=found.text if probability >= self._calibration.threshold else None,
            confidence=probability,
            onset_at=started_at + max(0.0, frame_seconds(found.first_frame) - _ONSET_LEAD_SECONDS),
            ended_at=started_at + frame_seconds(found.last_frame) + _END_LAG_SECONDS,
            compute_seconds=spent,
        )

    def _graph_for(self, phrases: tuple[str, ...]) -> Graph | None:
        missing = set(self.missing_words(phrases))
        can_hear = [phrase for phrase in phrases if phrase and not missing & set(phrase.split())]
        return phrase_graph(can_hear, self._lexicon) if can_hear else None

    def _utterance(self) -> tuple[Samples, float]:
        """The sound so far, at most the longest that is heard, and when it began."""
        if not self._blocks:
            return np.zeros(0, np.float32), 0.0
        samples = np.concatenate([block.samples for block in self._blocks])[-_LONGEST:]
        return samples, self._blocks[-1].ended_at - len(samples) / RATE

    def _decoded(self, samples: Samples) -> Decoding | None:
        if self._graph is None or not len(samples):
            return None
        return decode(self._network.posteriors(samples), self._graph)

    def _hear(self) -> Decoding | None:
        """Hear the utterance so far, as a whole."""
        started = time.thread_time()
        samples, started_at = self._utterance()
        found = self._decoded(samples)
        self._last = (found, started_at)
        self._compute_seconds += time.thread_time() - started
        return found

    def _guessed(self) -> Guess:
        found = self._hear()
        if found is None:
            return Guess(None, is_settled=False)
        probability = self._calibration.probability(found)
        is_over = len(found.shortfalls) - 1 - found.last_frame >= _QUIET_FRAMES
        return Guess(
            text=found.text if probability >= self._calibration.threshold else None,
            is_settled=is_over and not found.is_extendable and probability >= self._calibration.settled,
        )
