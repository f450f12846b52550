"""The states of a run; each is a fact of the record, so a run reopened after a stop is in the same one."""

from enum import StrEnum
from typing import Final


class State(StrEnum):
    """Where a run stands."""

    READY = "ready"
    """Nothing has happened yet."""
    BRIEFING = "briefing"
    """The cautions are read; `continue` goes on."""
    ASKING = "asking"
    """An item is in force."""
    CONFIRMING = "confirming"
    """A value out of its band, or an abandonment, waits for affirm or negative."""
    STOPPED = "stopped"
    """An answer meant danger: the item stays until it gets a safe answer, or the check is abandoned."""
    WAITING = "waiting"
    """All that can be asked now is answered; spin-up clocks are still open."""
    HOLDING = "holding"
    """The pilot said standby."""
    NOTING = "noting"
    """A sound clip is being recorded."""
    RESTORING = "restoring"
    """What was moved is asked back: the check is abandoned, or a stop asks for it first."""
    COMPLETE = "complete"
    """The completion call was made."""
    ABANDONED = "abandoned"
    """The check was dropped, with everything that was moved asked back."""


FINAL: Final = frozenset({State.COMPLETE, State.ABANDONED})
"""States that a run does not leave."""
