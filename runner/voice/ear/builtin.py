"""The built-in ear: a phone network and a strict search, so that only a phrase in force can come out."""

import time
from collections.abc import Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Final

import numpy as np

from runner.voice.ear.calibration import read_calibration
from runner.voice.ear.decode import Decoding, Scores, decode
from runner.voice.ear.graph import Graph, phrase_graph
from runner.voice.ear.lexicon import Lexicon
from runner.voice.ear.network import FRAME_SAMPLES, PhoneNetwork, frame_seconds
from runner.voice.listen.occasion import is_worth_hearing
from runner.voice.model.model_store import model_files
from runner.voice.port import RATE, Block, Guess, Hearing, More

_LONGEST: Final = 12 * RATE
"""Of a longer utterance only the last 12 seconds are heard."""

_QUIET_FRAMES: Final = 2
"""Frames of silence (0.05 s) that the network must have seen after a phrase that is settled early."""

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
        self._compute_seconds = self._last_cost = 0.0
        self._guess = Guess(None)
        self._posteriors: Scores | None = None
        self._found: Decoding | None = None
        self._started_at = 0.0

    def missing_words(self, phrases: Sequence[str]) -> tuple[str, ...]:
        """Words that have no letters to pronounce (figures, signs); every other word can be heard."""
        words = dict.fromkeys(word for phrase in phrases for word in phrase.split())
        return tuple(word for word in words if not self._lexicon.pronunciations(word))

    def expect(self, phrases: Sequence[str]) -> None:
        """From the next utterance on, only these phrases can come out; those with missing words cannot."""
        self._expected = self._graph_of(tuple(phrases))

    def feed(self, block: Block, silence_seconds: float = 0.0) -> Guess:
        """Take in a block; the utterance so far is heard where it may well be over, and seldom otherwise."""
        if not self._blocks:
            self._graph = self._expected
        self._blocks.append(block)
        self._samples += len(block.samples)
        if silence_seconds == 0.0 or self._guess.more is More.UNKNOWN:
            self._guess = Guess(None)
            if is_worth_hearing(
                length_seconds=self._samples / RATE,
                new_seconds=(self._samples - self._heard_samples) / RATE,
                silence_seconds=silence_seconds,
                cost_seconds=self._last_cost,
            ):
                self._guess = self._guessed()
        return self._guess

    def finish(self) -> Hearing:
        """Hear the utterance a last time, unless nothing new can have come, and forget it."""
        if self._guess.more is not More.NOTHING:
            self._hear()
        found, started_at = self._found, self._started_at
        ended_at = self._blocks[-1].ended_at if self._blocks else 0.0
        spent, self._compute_seconds, self._last_cost = self._compute_seconds, 0.0, 0.0
        self._blocks, self._samples, self._heard_samples = [], 0, 0
        self._guess, self._posteriors, self._found, self._started_at = Guess(None), None, None, 0.0
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

    def _hear(self, least_quiet: int = 0) -> None:
        """Hear the utterance so far as a whole; what was heard before without anything new is kept."""
        if self._graph is None or not self._blocks:
            return
        begun = time.thread_time()
        if self._posteriors is None or self._heard_samples != self._samples:
            samples = np.concatenate([block.samples for block in self._blocks])[-_LONGEST:]
            self._started_at = self._blocks[-1].ended_at - len(samples) / RATE
            self._posteriors, self._heard_samples = self._network.posteriors(samples), self._samples
        self._found = decode(self._posteriors, self._graph, least_quiet)
        self._last_cost = time.thread_time() - begun
        self._compute_seconds += self._last_cost

    def _guessed(self) -> Guess:
        self._hear(_QUIET_FRAMES)
        found = self._found
        probability = self._calibration.probability(found) if found else 0.0
        if found is None or probability < self._calibration.threshold:
            return Guess(None)
        quiet = (len(found.shortfalls) - 1 - found.last_frame) * FRAME_SAMPLES / RATE
        is_sure = probability >= self._calibration.settled
        return Guess(found.text, found.more if is_sure else More.UNKNOWN, quiet)
