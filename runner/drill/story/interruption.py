"""Interruptions: who comes in the middle of a check, what is said, and what has to be answered."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

PATIENCE_SECONDS: Final = 20.0
"""After so long without an answer whoever came has gone, or calls again elsewhere; ours."""


@dataclass(frozen=True, slots=True)
class Interruption:
    """Somebody wants an answer."""

    who: str
    says: str
    wants: tuple[str, ...]
    """What may be answered, the first of them on the key."""
    after_items: int
    """So many items are answered when it comes."""


_KNOWN: Final = (
    ("fuel truck", "Fuel truck here. Shall I start fuelling?", ("no fuel now", "keep the fuel off")),
    ("ground", "{tail}, ground, radio check. How do you read?", ("reading you five", "read you five")),
    ("passenger", "Can I get in yet?", ("please wait outside", "stay outside")),
    ("ground", "{tail}, ground, can you accept an early departure?", ("negative early departure",)),
    ("mechanic", "May I plug in the power cart?", ("no cart now", "leave the cart off")),
)
"""Ours; with the reserve under test nobody fuels, plugs in or boards."""


def interruptions_of(
    tail: str, items: int, count: int, generator: np.random.Generator
) -> tuple[Interruption, ...]:
    """So many of them, spread over a check of so many items."""
    chosen = generator.choice(len(_KNOWN), size=min(count, len(_KNOWN)), replace=False)
    moments = sorted(generator.choice(range(3, max(4 + count, items - 3)), size=len(chosen), replace=False))
    return tuple(
        Interruption(who, says.format(tail=tail), wants, int(after))
        for (who, says, wants), after in zip((_KNOWN[number] for number in chosen), moments, strict=True)
    )
