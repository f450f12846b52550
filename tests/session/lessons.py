"""A booth without a sound card: a synthetic pilot's real voice and a real noise on a simulated clock."""

from collections.abc import Mapping

import numpy as np

from runner.session.live.prompt_mouth import Mouth
from runner.session.scripted.pilot_script import PilotScript, ScriptLine, ScriptNoise
from runner.session.scripted.studio import ScriptedStudio
from runner.voice.port import RATE, Block, Samples, Voice

BEGAN_AT = 1796280000.0
BLOCK_SAMPLES = 480
LEAD_SAMPLES = RATE // 2


class ScriptedBooth:
    """Says what it is asked to say, unless `instead` has other words for that phrase, one for each time."""

    def __init__(
        self,
        voice: Voice,
        *,
        noise: ScriptNoise | None = None,
        gain: float = 1.0,
        instead: Mapping[str, tuple[str, ...]] | None = None,
    ) -> None:
        script = PilotScript("", "", noise, seed=7, start_at=BEGAN_AT, lines=())
        self._studio = ScriptedStudio(Mouth(voice), voice, script)
        self._gain = gain
        self._instead = {phrase: list(words) for phrase, words in (instead or {}).items()}
        self._speech: Samples = np.zeros(0, np.float32)
        self._at = BEGAN_AT
        self.asked: list[str] = []

    def ask(self, words: str) -> float:
        """Begin to answer, after half a second."""
        self.asked.append(words)
        _, _, phrase = words.partition("Say: ")
        words = self._words_for(phrase.removesuffix("."))
        line = (
            self._studio.line(ScriptLine("", words, None, 0.0, is_clock=False)) * self._gain
            if words
            else None
        )
        lead = np.zeros(LEAD_SAMPLES, np.float32)
        self._speech = np.zeros(0, np.float32) if line is None else np.concatenate([lead, line])
        return self._at

    def next_block(self) -> Block:
        """Noise and, while there is any, speech; clipped as a sound card clips."""
        piece, self._speech = self._speech[:BLOCK_SAMPLES], self._speech[BLOCK_SAMPLES:]
        samples = self._studio.noise(BLOCK_SAMPLES)
        samples = samples + np.pad(piece, (0, BLOCK_SAMPLES - len(piece)))
        block = Block(np.clip(samples, -1.0, 1.0).astype(np.float32), self._at)
        self._at = block.ended_at
        return block

    def _words_for(self, phrase: str) -> str:
        others = self._instead.get(phrase)
        return others.pop(0) if others else phrase
