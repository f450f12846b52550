"""Where an answer came from: what was received, when it began, and how long after the challenge."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Reception:
    """What was taken for an answer, and how it came in."""

    text: str
    """What was heard, or the key's label; empty where the tool itself asks something."""
    confidence: float
    """Of the ear, 0 to 1; keys have 1."""
    channel: str
    """"voice" or "keys" (`event.Channel`); empty where the tool itself asks something."""


@dataclass(frozen=True, slots=True)
class AnswerOrigin:
    """All that is on record of how an answer was given."""

    onset_at: float
    """When the speech began, or the key went down, in seconds since the epoch."""
    response_seconds: float | None
    """From the end of the challenge to the onset; None when answered during the challenge."""
    is_hasty: bool
    """Under a second after a challenge that needs a look (NTSB/AAR-89/04), or before its end."""
    reception: Reception
