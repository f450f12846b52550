"""The scripted pilot: decides, moment by moment, which line of the script is said next."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from runner.errors import UsageError
from runner.session.script import Line, PilotScript

PATIENCE_SECONDS: Final = 8.0
"""When nothing came of a line for this long, the pilot says it again, as a person would."""

TRIES: Final = 3
"""So often; then the script does not fit the check."""


@dataclass(frozen=True, slots=True)
class Moment:
    """What the pilot can know now."""

    now: float
    turn: int
    point: str
    """The item in force, or one of `script.POINTS`."""
    silent_since: float | None
    """When the last prompt ended; None while one plays."""
    clocks: Mapping[str, float]
    """Open clocks and when they started."""


class Pilot:
    """Holds the lines that are still to be said."""

    def __init__(self, script: PilotScript) -> None:
        self._lines: dict[tuple[str, bool], deque[Line]] = defaultdict(deque)
        for line in script.lines:
            self._lines[line.on, line.is_clock].append(line)
        self._turn = -1
        self._said_at = 0.0
        self._last: Line | None = None
        self._tries = 0

    def next_line(self, moment: Moment) -> Line | None:
        """The line to begin now, if any. UsageError when the script has nothing to say here."""
        if moment.silent_since is None:
            return None
        return self._clock_line(moment) or self._point_line(moment, moment.silent_since)

    def _clock_line(self, moment: Moment) -> Line | None:
        for item, started_at in moment.clocks.items():
            waiting = self._lines[item, True]
            if waiting and moment.now >= started_at + waiting[0].after_seconds:
                return waiting.popleft()
        return None

    def _point_line(self, moment: Moment, silent_since: float) -> Line | None:
        if moment.turn == self._turn:
            return self._again(moment)
        waiting = self._lines[moment.point, False]
        if not waiting:
            self._check_silence(moment, silent_since)
            return None
        if moment.now < silent_since + waiting[0].after_seconds:
            return None
        self._turn, self._said_at, self._last, self._tries = moment.turn, moment.now, waiting[0], 1
        return waiting.popleft()

    def _again(self, moment: Moment) -> Line | None:
        if moment.now < self._said_at + PATIENCE_SECONDS:
            return None
        if self._tries >= TRIES:
            said = self._last.say if self._last else ""
            raise UsageError(
                f'the ear took nothing from "{said}" at "{moment.point}" in {TRIES} tries; '
                "see which phrases are in force there, or lower the noise"
            )
        self._said_at, self._tries = moment.now, self._tries + 1
        return self._last

    def _check_silence(self, moment: Moment, silent_since: float) -> None:
        """Silence is right while clocks run; else the script has an end too soon."""
        if any(self._lines[item, True] for item in moment.clocks):
            return
        if moment.now > silent_since + PATIENCE_SECONDS:
            raise UsageError(
                f'the pilot file has no line left for "{moment.point}"; add one with "on: {moment.point}"'
            )
