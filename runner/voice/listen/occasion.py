"""Occasions: when an utterance that is still being spoken is worth a hearing, so that few have to do."""

from typing import Final

_SILENCES: Final = (0.06, 0.15, 0.3)
"""Seconds of silence after which the utterance so far is heard."""

_FIRST_IN_SPEECH: Final = 2.0
_LEAST_IN_SPEECH: Final = 0.6
_SHARE_IN_SPEECH: Final = 0.25
"""In a room where no silence is ever seen: after so many seconds, then again when this much, and this
share of the whole, is new."""

_REST: Final = 2.0
"""Hearing may take no more than every second moment: what is new lasts at least so many times its cost."""


def is_worth_hearing(
    *, length_seconds: float, new_seconds: float, silence_seconds: float, cost_seconds: float
) -> bool:
    """Whether to hear now an utterance of this length, of which `new_seconds` have not been heard yet.

    `silence_seconds` is how long nobody has spoken at its end, `cost_seconds` the processor time of the last
    hearing.
    """
    if new_seconds < _REST * cost_seconds:
        return False
    if silence_seconds > 0.0:
        return any(silence_seconds - new_seconds < mark - 1e-6 <= silence_seconds for mark in _SILENCES)
    least = max(_LEAST_IN_SPEECH, _SHARE_IN_SPEECH * length_seconds)
    return length_seconds >= _FIRST_IN_SPEECH and new_seconds >= least
