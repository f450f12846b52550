"""The run on a terminal without a screen: prints a view whenever it says something new, reads lines."""

import contextlib
import threading
from collections.abc import Callable
from dataclasses import replace
from typing import TextIO

from runner.core.state import FINAL
from runner.screen.keys import Helped, Intent, Left, Refused
from runner.screen.plain.plain_view import WIDTH, help_lines, panel_lines, plain_lines
from runner.screen.plain.typed_line import line_to_intent
from runner.screen.plain.typed_lines import TypedLines
from runner.screen.view import BatteryView, ClockState, ClockView, View

PROMPT = "> "


class Console:
    """The plain counterpart of the Textual app. Views may come from any thread; `run` reads on its own."""

    def __init__(
        self, first: View, act: Callable[[Intent], None], read: TextIO, write: TextIO, width: int = WIDTH
    ) -> None:
        self._width = width
        self._act = act
        self._lines = TypedLines(read)
        self._write = write
        self._lock = threading.Lock()
        self._latest = first
        self._shown: View | None = None
        self._is_closed = False

    def post_view(self, view: View) -> None:
        """Print the view when more than its moving figures has changed. May be called from any thread."""
        with self._lock:
            self._latest = view
            if self._shown is None or _still(view) != _still(self._shown):
                self._print(view)

    def run(self) -> None:
        """Read lines until the pilot leaves or the input ends; what ends last is the intent to leave."""
        self.post_view(self._latest)
        for line in self._lines:
            if line.split() == ["panel"] and self._latest.drill is not None:
                self._write_lines(panel_lines(self._latest, self._width))
                continue
            intent = line_to_intent(line, self._latest)
            if isinstance(intent, Refused | Helped):
                self._tell(intent)
                continue
            self._act(intent)
            if isinstance(intent, Left):
                return
        if not self._is_closed:
            self._act(Left())

    def close(self) -> None:
        """End at once, or with the next line where a read that waits cannot be called back."""
        self._is_closed = True
        with self._lock, contextlib.suppress(OSError):  # the output may be what has failed
            self._write.write("\nthe run has stopped\n")
            self._write.flush()
        self._lines.stop()

    def _print(self, view: View) -> None:
        """Write the whole view; the lock is held."""
        self._shown = view
        closing = ("press enter to close",) if view.state in FINAL else ()
        self._write.write("\n".join(("", *plain_lines(view, self._width), *closing, PROMPT)))
        self._write.flush()

    def _tell(self, told: Refused | Helped) -> None:
        """Say why a line gave nothing, or which keys there are."""
        refused = () if isinstance(told, Helped) else (f"not taken: {told.reason}",)
        self._write_lines(refused or help_lines(self._latest, self._width))

    def _write_lines(self, lines: tuple[str, ...]) -> None:
        """Something that is no view."""
        with self._lock:
            self._write.write("\n".join((*lines, PROMPT)))
            self._write.flush()


def _still(view: View) -> View:
    """The view without what moves by itself: time, levels, battery; of a clock only where it stands."""
    clocks = tuple(map(_still_clock, view.clocks))
    sound = replace(view.sound, dbfs=None)
    drill = None if view.drill is None else replace(view.drill, rows=(), left_seconds=None)
    battery = _still_battery(view.battery)
    return replace(view, now=0.0, clocks=clocks, sound=sound, battery=battery, drill=drill)


def _still_clock(clock: ClockView) -> ClockView:
    """The clock at the start of where it stands."""
    passed = {
        ClockState.RUNNING: 0.0,
        ClockState.ADVISE: clock.advise_seconds,
        ClockState.LIMIT: clock.limit_seconds,
    }
    return replace(clock, elapsed_seconds=passed[clock.state])


def _still_battery(battery: BatteryView) -> BatteryView:
    """The battery at one figure on each side of its warning."""
    return replace(battery, ampere_hours=battery.usable_ampere_hours if battery.is_warned else 0.0)
