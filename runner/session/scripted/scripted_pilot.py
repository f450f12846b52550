"""The scripted pilot: decides, moment by moment, which line of the script is said next."""

from __future__ import annotations

from collections import Counter, defaultdict, deque
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from runner.errors import UsageError
from runner.session.scripted.pilot_script import PilotScript, ScriptLine

PATIENCE_SECONDS: Final = 8.0
"""When nothing came of a line for this long, the pilot says it again, as a person would."""

BREATH_SECONDS: Final = 1.5
"""Between two lines: nobody answers one question and calls a flag in one breath."""

REPLY_SECONDS: Final = 0.6
"""After a prompt nobody speaks sooner: finding a word takes so long (Levinson and Indefrey, as quoted)."""

TRIES: Final = 3
"""So often; then the script does not fit the check."""


@dataclass(frozen=True, slots=True)
class PilotMoment:
    """What the pilot can know now."""

    now: float
    turn: int
    point: str
    """The item in force, or one of `script.POINTS`."""
    silent_since: float | None
    """When the last prompt ended; None while one plays."""
    clocks: Mapping[str, float]
    """Open clocks and when they started."""
    spoke_until: float
    """When the pilot's own last line ended."""


class Pilot:
    """Holds the lines that are still to be said, and the one that nobody has taken yet."""

    def __init__(self, script: PilotScript) -> None:
        self._lines: dict[tuple[str, bool], deque[ScriptLine]] = defaultdict(deque)
        for line in script.lines:
            self._lines[line.on, line.is_clock].append(line)
        self._open: _Said | None = None
        self._misses: Counter[ScriptLine] = Counter()

    def was_heard(self, *, is_taken: bool) -> None:
        """The ear made something of the last line.

        One that was not taken is said again, unless the script goes on with another line there.
        """
        said, self._open = self._open, None
        if said is None or is_taken:
            return
        waiting = self._lines[said.line.on, said.line.is_clock]
        self._misses[said.line] += 1
        if not waiting and self._misses[said.line] < TRIES:
            waiting.append(said.line)

    def next_line(self, moment: PilotMoment) -> ScriptLine | None:
        """The line to begin now, if any. UsageError when the script has nothing to say here."""
        if moment.silent_since is None or moment.now < moment.silent_since + REPLY_SECONDS:
            return None
        if moment.now < moment.spoke_until + BREATH_SECONDS:
            return None
        if self._open is not None and _still_counts(self._open.line, moment):
            return self._again(self._open, moment, moment.silent_since)
        line = self._clock_line(moment) or self._point_line(moment, moment.silent_since)
        self._open = None if line is None else _Said(line, moment.turn, moment.now)
        return line

    def _clock_line(self, moment: PilotMoment) -> ScriptLine | None:
        for item, started_at in moment.clocks.items():
            waiting = self._lines[item, True]
            if waiting and moment.now >= started_at + waiting[0].after_seconds:
                return waiting.popleft()
        return None

    def _point_line(self, moment: PilotMoment, silent_since: float) -> ScriptLine | None:
        waiting = self._lines[moment.point, False]
        if not waiting:
            self._check_silence(moment, silent_since)
            return None
        return waiting.popleft() if moment.now >= silent_since + waiting[0].after_seconds else None

    def _again(self, said: _Said, moment: PilotMoment, silent_since: float) -> ScriptLine | None:
        """A line that a prompt talked over, or that nobody noticed, is repeated as a person would."""
        was_talked_over = moment.turn != said.turn and moment.now >= silent_since + BREATH_SECONDS
        if not was_talked_over and moment.now < said.at + PATIENCE_SECONDS:
            return None
        if said.tries >= TRIES:
            raise UsageError(
                f'the ear noticed nothing of "{said.line.say}" at "{moment.point}" in {TRIES} tries; '
                "see which phrases are in force there, or lower the noise"
            )
        self._open = _Said(said.line, moment.turn, moment.now, said.tries + 1)
        return said.line

    def _check_silence(self, moment: PilotMoment, silent_since: float) -> None:
        """Silence is right while clocks run; else the script has an end too soon."""
        if any(self._lines[item, True] for item in moment.clocks):
            return
        if moment.now > silent_since + PATIENCE_SECONDS:
            raise UsageError(
                f'the pilot file has no line left for "{moment.point}"; add one with "on: {moment.point}"'
            )


@dataclass(frozen=True, slots=True)
class _Said:
    """A line that has been said and not been taken."""

    line: ScriptLine
    turn: int
    at: float
    tries: int = 1


def _still_counts(line: ScriptLine, moment: PilotMoment) -> bool:
    return line.on in moment.clocks if line.is_clock else line.on == moment.point
