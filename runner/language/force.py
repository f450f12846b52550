"""The phrases in force: one table that the recogniser is given and that answers are read with."""

from collections.abc import Mapping
from dataclasses import dataclass

from runner.language.meaning import Meaning


@dataclass(frozen=True, slots=True)
class InForce:
    """Canonical phrases (lower case words, no punctuation) and what each means."""

    meanings: Mapping[str, Meaning]

    @property
    def phrases(self) -> tuple[str, ...]:
        """The phrases in their order, for a recogniser."""
        return tuple(self.meanings)
