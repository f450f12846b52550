"""A state: one of several named answers, such as lamps: both, left out, right out."""

from dataclasses import dataclass
from typing import ClassVar

from runner.checklist.kind.named import Named


@dataclass(frozen=True, slots=True)
class NamedState(Named):
    """One of several named answers, at least one of which fails."""

    key: ClassVar[str] = "state"
    is_looked_at: ClassVar[bool] = True
    gives_power: ClassVar[bool] = True
    failing: ClassVar[int] = 1
