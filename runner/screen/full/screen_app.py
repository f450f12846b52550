"""The screen: draws the views that it is given and hands each key's intent on; knows no rule of a run."""

import asyncio
import contextlib
import threading
from collections.abc import Callable
from dataclasses import replace
from typing import ClassVar, Final

from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Horizontal
from textual.content import Content
from textual.events import Key
from textual.message import Message

from runner.screen import view_wording as wording
from runner.screen.double_tap import Tap, guard, tapped
from runner.screen.drill_key import Pointed, drill_key
from runner.screen.full import frame
from runner.screen.full.drill_board import DrillBoard
from runner.screen.full.palette import DAY, DAY_THEME, NIGHT_THEME, Tone, variables, view_tone
from runner.screen.full.pane import Pane
from runner.screen.full.room import STACKED_UNDER, WIDE, Room, board_cells, room_for
from runner.screen.full.screen_stop import STOPPING
from runner.screen.full.side import Side
from runner.screen.full.text_band import TextBand
from runner.screen.keys import (
    LEAVE_KEYS,
    Answering,
    Helped,
    Intent,
    KeyedAnswer,
    Left,
    Refused,
    Typed,
    key_to_intent,
)
from runner.screen.view import View

_ALWAYS: Final = frozenset({"state", "run", "position", "edge"})
"""Bands that stand even when they are empty."""


class EyesoutApp(App[None]):
    """A run in a terminal. Views may come from any thread; intents go to `act` on the screen's thread."""

    CSS_PATH = "eyesout.tcss"
    ENABLE_COMMAND_PALETTE = False
    AUTO_FOCUS = None
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (WIDE, "-wide")]  # noqa: RUF012 - the framework declares it
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q", "press('ctrl+q')", priority=True, show=False),
        Binding("ctrl+c", "press('ctrl+c')", priority=True, show=False),
        Binding("ctrl+t", "turn_light", priority=True, show=False),
    ]

    class Posted(Message):
        """A newer view waits to be drawn; one drawing serves all that came before it."""

        def can_replace(self, message: Message) -> bool:
            """Any waiting one is stale."""
            return isinstance(message, EyesoutApp.Posted)

    class Dismissed(Message):
        """The run wants no screen any more."""

    def __init__(self, first: View, act: Callable[[Intent], None]) -> None:
        super().__init__()
        self.animation_level = "none"
        self.register_theme(DAY_THEME)
        self.register_theme(NIGHT_THEME)
        self._act = act
        self.stopped_by = 0
        """The signal that ended the screen; 0 when none did."""
        self._lock = threading.Lock()
        self._latest = first
        self._typed = ""
        self._refusal = ""
        self._is_left = False
        self._shows_keys = False
        self._last: Tap | None = None
        """The key that a double tap would repeat."""
        self._is_too_small = False
        self._cursor = 0
        """The row of a drill's panel that keys are about."""

    def post_view(self, view: View) -> None:
        """Show this view from now on. May be called from any thread, also before the screen runs."""
        with self._lock:
            if view.turn != self._latest.turn:
                self._refusal = ""
                self._is_left = self._is_left and _is_unchanged(self._latest, view)
                self._typed = self._typed if _is_asked_again(self._latest, view) else ""
            self._latest = view
        if self.is_running:
            self.post_message(self.Posted())

    def close(self) -> None:
        """End the screen. May be called from any thread."""
        self.post_message(self.Dismissed())

    @property
    def view(self) -> View:
        """The latest view with what was typed into it."""
        with self._lock:
            return replace(
                self._latest,
                typed=self._typed,
                refusal=self._refusal,
                is_left=self._is_left,
                shows_keys=self._shows_keys,
            )

    def compose(self) -> ComposeResult:
        """The parts from top to bottom."""
        with Horizontal(id="top"):
            yield TextBand("state")
            yield TextBand("run")
            yield TextBand("position")
        yield TextBand("progress")
        with Container(id="body"):
            yield TextBand("edge")
            with Container(id="desk"):
                yield Pane(self._latest)
                yield DrillBoard()
            yield Side(id="side")
        yield TextBand("failed")
        yield TextBand("heard")
        yield TextBand("said")
        yield TextBand("ear")
        yield TextBand("words")
        yield TextBand("advisory")

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """The stylesheet's variables before a theme is chosen."""
        return variables(DAY)

    async def on_mount(self) -> None:
        """Draw the first view."""
        self.theme = DAY_THEME.name
        self._leave_on_signals()
        await self._show()

    def _leave_on_signals(self) -> None:
        """Told to stop from outside, the screen leaves the terminal as it was, as for a key."""
        loop = asyncio.get_running_loop()
        for number in STOPPING:
            with contextlib.suppress(NotImplementedError, RuntimeError, ValueError):  # not on every system
                loop.add_signal_handler(number, self._stop_by, number)

    def _stop_by(self, number: int) -> None:
        self.stopped_by = number
        self._act(Left())
        self.exit()

    async def on_eyesout_app_posted(self) -> None:
        """Draw the latest view."""
        await self._show()

    def on_eyesout_app_dismissed(self) -> None:
        """Leave the terminal as it was."""
        self.exit()

    async def on_resize(self) -> None:
        """Draw what is cut to the width again."""
        self.call_after_refresh(self._show)

    async def on_key(self, event: Key) -> None:
        """Any key that is not the screen's own is an answer, or is refused with a reason."""
        event.stop()
        key = event.character if event.is_printable and event.character else event.key
        await self.action_press(key, event.time)

    async def action_press(self, key: str, at: float | None = None) -> None:
        """Hand on what the key means; `at` is when it went down, None for the keys that leave."""
        view = self.view
        if view.shows_keys and key not in LEAVE_KEYS:
            self._shows_keys = False
            await self._show()
            return
        pointed = drill_key(key, view, self._cursor)
        if isinstance(pointed, Pointed):
            self._cursor = pointed.row
            await self._show()
            return
        intent = pointed or self._guarded(key, at, view)
        self._typed = intent.text if isinstance(intent, Typed) else ""
        self._refusal = intent.reason if isinstance(intent, Refused) else ""
        self._is_left = self._is_left or key in LEAVE_KEYS
        self._shows_keys = isinstance(intent, Helped)
        if not isinstance(intent, Typed | Refused | Helped):
            self._act(intent)
        await self._show()
        if isinstance(intent, Left):
            self.exit()

    def _guarded(self, key: str, at: float | None, view: View) -> Answering:
        """What the key means, if it is not the second of a double tap."""
        intent = key_to_intent(key, view)
        if self._is_too_small and isinstance(intent, KeyedAnswer) and key not in LEAVE_KEYS:
            return Refused("the terminal is too small to show what this would answer")
        if at is None:
            return intent
        tap = Tap(key, at, view.turn)
        intent = guard(intent, tap, view, self._last)
        self._last = tapped(intent, tap, self._last)
        return intent

    def action_turn_light(self) -> None:
        """Black on white for the sun, light on black for the dark."""
        is_day = self.theme == DAY_THEME.name
        self.theme = NIGHT_THEME.name if is_day else DAY_THEME.name

    async def _show(self) -> None:
        """Draw the latest view, changed parts only."""
        view, width = self.view, self.size.width
        room = room_for(view, width, self.size.height)
        self._is_too_small = room.is_too_small
        self._show_frame(view, room)
        self.query_one("#desk").set_class(width < STACKED_UNDER, "stacked")
        self.query_one(DrillBoard).show(view.drill, self._cursor, board_cells(view, width))
        self.query_one(Pane).show(view, is_too_small=room.is_too_small)
        await self.query_one(Side).show(view, room, is_wide=width >= WIDE)

    def _show_frame(self, view: View, room: Room) -> None:
        """Draw everything around the item."""
        width, tone = self.size.width - 2, view_tone(view)
        drawn: dict[str, tuple[Content | str, Tone]] = {
            "state": (frame.state_words(view), tone),
            "run": (frame.run_words(view), tone),
            "position": (wording.position(view), tone),
            "progress": (frame.progress_words(view, width), Tone.PLAIN),
            "edge": ("", tone),
            "failed": (wording.failures(view), Tone.CAUTION),
            "heard": (wording.heard(view), frame.heard_tone(view)),
            "said": (wording.said(view), Tone.PLAIN),
            "ear": (frame.ear_words(view), frame.ear_tone(view)),
            "words": (frame.word_caps(view, width), Tone.PLAIN),
            "advisory": (frame.advisory_words(width), Tone.PLAIN),
        }
        for name, (content, its_tone) in drawn.items():
            band = self.query_one(f"#{name}", TextBand)
            band.show("" if name in room.given_up else content, its_tone)
            band.display = name in _ALWAYS or (name not in room.given_up and bool(content))


def _is_unchanged(before: View, after: View) -> bool:
    """The same is asked, if with other words: the next breath, a repetition, an alert."""
    return (before.state, before.challenge, before.question) == (after.state, after.challenge, after.question)


def _is_asked_again(before: View, after: View) -> bool:
    """The same reading or note waits, after an alert or a reminder: what was typed still belongs to it."""
    if before.is_note_typed and after.is_note_typed:
        return True
    return after.gauge is not None and (before.gauge, before.question) == (after.gauge, after.question)
