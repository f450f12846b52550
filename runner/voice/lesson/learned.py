"""What was learned of one person's voice on one microphone in one room."""

from dataclasses import dataclass

import numpy as np

from runner.voice.lesson.trial import Tally
from runner.voice.listen.level import FAINTEST_SPEECH_DBFS, RISE_DB, SILENCE_DBFS, get_speech_dbfs
from runner.voice.port import Block, Samples

CLIPPED_AT = 0.99
"""Of full scale."""
CLIPPED_SHARE = 0.001
"""An utterance with more samples than this share at full scale is clipped: 16 in each second."""


@dataclass(frozen=True, slots=True)
class Measures:
    """The microphone, the voice and the room; levels in dBFS of the speech band."""

    floor_dbfs: float
    """The room in silence."""
    speech_dbfs: float
    """The person, while speaking, less the room."""
    clipped: int
    """Sayings that went beyond what the microphone can tell."""
    sayings: int
    """Phrases that were said, second tries included."""

    @property
    def ratio_db(self) -> float:
        """Speech over noise."""
        return self.speech_dbfs - self.floor_dbfs


@dataclass(frozen=True, slots=True)
class LearnedEar:
    """What one ear made of it."""

    engine: str
    """As `--engine` names it."""
    fingerprint: str
    """Of its files: another model has to learn again."""
    shipped: float
    """The threshold that it comes with."""
    threshold: float
    """The threshold that fits."""
    as_shipped: Tally
    as_fitted: Tally

    @property
    def usual(self) -> Tally:
        """The count to expect by: the one that refuses more, as a fit looks better on its own trials."""
        return max(self.as_shipped, self.as_fitted, key=lambda tally: tally.refused)


@dataclass(frozen=True, slots=True)
class Learned:
    """One person, one device, one day."""

    pilot: str
    """As given to `--by`; empty for whoever gives no name."""
    device: str
    learned_at: float
    """Seconds since the epoch."""
    measures: Measures
    engine: str
    """The chosen ear's."""
    ears: tuple[LearnedEar, ...]
    """All that were tried."""
    understood_late: int
    """Phrases that were understood when said a second time."""
    heard_wrong: tuple[str, ...] = ()
    """What the chosen ear, as shipped, took for an answer although it was not said."""

    @property
    def ear(self) -> LearnedEar:
        """The chosen one."""
        return next(ear for ear in self.ears if ear.engine == self.engine)


def measure(floor_dbfs: float, sayings: tuple[tuple[Block, ...], ...]) -> Measures:
    """Measure what was said, each saying as blocks of a microphone, in a room of that noise floor."""
    said = [blocks for blocks in sayings if blocks]
    levels = np.array([get_speech_dbfs(block.samples) for blocks in said for block in blocks])
    speaking = levels[levels >= max(floor_dbfs + RISE_DB, FAINTEST_SPEECH_DBFS)]
    power = float(np.mean(10.0 ** (speaking / 10.0))) - 10.0 ** (floor_dbfs / 10.0) if len(speaking) else 0.0
    speech_dbfs = 10.0 * float(np.log10(power)) if power > 0.0 else SILENCE_DBFS
    clipped = sum(is_clipped(np.concatenate([block.samples for block in blocks])) for blocks in said)
    return Measures(floor_dbfs, speech_dbfs, clipped, len(said))


def is_clipped(samples: Samples) -> bool:
    """More than a stray sample lies at full scale."""
    return bool(np.mean(np.abs(samples) >= CLIPPED_AT) > CLIPPED_SHARE)
