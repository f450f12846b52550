"""The whole Moonshine tiny model made to choose among the phrases in force: its own decoder, forced.

Needs the folder `moonshine_voice/assets/tiny-en` of the wheel moonshine-voice 0.0.59. A beam of partial
sentences goes through the tree of all spellings of all phrases, so that thousands of phrases cost
little more than twenty.
"""

import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from runner.voice.port import Block, Guess, Hearing, Samples
from tests.bench.ear.spelling import spellings
from tests.bench.ear.training import transcribe

_BEGIN: Final = 1
_END: Final = 2
_BEAM: Final = 8
Floats = npt.NDArray[np.float32]
Past = dict[str, Floats]


@dataclass(slots=True)
class Branch:
    """A place in the tree of spellings."""

    nexts: dict[int, "Branch"] = field(default_factory=dict)
    phrase: str | None = None
    """The phrase that is complete here."""


@dataclass(frozen=True, slots=True)
class Partial:
    """A partial sentence of the beam."""

    branch: Branch
    token: int
    score: float
    tokens: int


class MoonshineEar:
    """Chooses the phrase whose best spelling the decoder finds likeliest: one of them always wins.

    Its confidence is the mean probability of a token (geometric), not a calibrated one.
    """

    name = "moonshine"

    def __init__(self, folder: Path) -> None:
        self._model: Any = transcribe.Transcriber(folder)
        self._tokens_of = lru_cache(10_000)(self._model._encoded)
        self._tree_of = lru_cache(100)(self._tree)
        self._root = Branch()
        self._blocks: list[Block] = []

    def missing_words(self, phrases: Sequence[str]) -> tuple[str, ...]:  # noqa: ARG002 - it can spell anything
        """None."""
        return ()

    def expect(self, phrases: Sequence[str]) -> None:
        """Build the tree when it is new."""
        self._root = self._tree_of(tuple(phrases))

    def feed(self, block: Block, silence_seconds: float = 0.0) -> Guess:
        """Keep it for the end."""
        del silence_seconds
        self._blocks.append(block)
        return Guess(None)

    def finish(self) -> Hearing:
        """Search."""
        started = time.thread_time()
        samples = np.concatenate([block.samples for block in self._blocks])
        at, self._blocks = self._blocks[0].started_at, []
        phrase, confidence = self._chosen(samples)
        return Hearing(phrase, confidence, at, at, time.thread_time() - started)

    def _tree(self, phrases: tuple[str, ...]) -> Branch:
        root = Branch()
        for phrase in phrases:
            for text in spellings(phrase):
                branch = root
                for word in text.split():  # no piece goes on past the space before a word
                    for token in self._tokens_of(word):
                        branch = branch.nexts.setdefault(token, Branch())
                branch.phrase = branch.phrase or phrase
        return root

    def _chosen(self, samples: Samples) -> tuple[str | None, float]:
        step = _Decoder(self._model, samples)
        beam = [Partial(self._root, _BEGIN, 0.0, 0)]
        found: list[tuple[float, int, str]] = []
        parents = [0]
        while beam:
            scores = step.scores([path.token for path in beam], parents)
            grown, parents, ended = _grown(beam, scores)
            found += ended
            best = max((score for score, _, _ in found), default=-np.inf)
            kept = [n for n, path in enumerate(grown) if path.score > best]
            beam, parents = [grown[n] for n in kept], [parents[n] for n in kept]
        score, tokens, phrase = max(found)
        return phrase, float(np.exp(score / tokens))


def _grown(
    beam: list[Partial], scores: Floats
) -> tuple[list[Partial], list[int], list[tuple[float, int, str]]]:
    """The best next paths, the row that each came from, and the sentences that may end here."""
    ended = [
        (path.score + float(row[_END]), path.tokens + 1, path.branch.phrase)
        for path, row in zip(beam, scores, strict=True)
        if path.branch.phrase is not None
    ]
    nexts = [
        (Partial(branch, token, path.score + float(row[token]), path.tokens + 1), n)
        for n, (path, row) in enumerate(zip(beam, scores, strict=True))
        for token, branch in path.branch.nexts.items()
    ]
    best = sorted(nexts, key=lambda pair: -pair[0].score)[:_BEAM]
    return [path for path, _ in best], [n for _, n in best], ended


class _Decoder:
    """The decoder with its cache, for several partial sentences about one sound."""

    def __init__(self, model: Any, samples: Samples) -> None:
        sound = samples[None].astype(np.float32)
        given = {"input_values": sound, "attention_mask": np.ones(sound.shape, np.int64)}
        self._frames: Floats = model._encoder.run(None, given)[0]
        self._mask = np.ones(sound.shape, np.int64)
        self._decoder = model._decoder
        self._names = [i.name for i in self._decoder.get_inputs() if i.name.startswith("past")]
        self._past: Past = {name: np.zeros((1, 8, 0, 36), np.float32) for name in self._names}
        self._is_first = True

    def scores(self, tokens: list[int], parents: list[int]) -> Floats:
        """Log probabilities (sentences, tokens) of what comes next; `parents` are rows of the last call."""
        count = len(tokens)
        if not self._is_first:
            self._past = {name: value[parents] for name, value in self._past.items()}
        given = {
            "input_ids": np.array(tokens, np.int64)[:, None],
            "encoder_hidden_states": np.repeat(self._frames, count, 0),
            "encoder_attention_mask": np.repeat(self._mask, count, 0),
            "use_cache_branch": np.array([not self._is_first]),
        }
        logits, *present = self._decoder.run(None, given | self._past)
        for name, value in zip(self._names, present, strict=True):
            if self._is_first or ".decoder." in name:
                self._past[name] = value
        self._is_first = False
        rows = logits[:, -1] - logits[:, -1].max(1, keepdims=True)
        return np.asarray(rows - np.log(np.exp(rows).sum(1, keepdims=True)), np.float32)
