"""The side: what goes on beside the item in force; clocks, battery, items put off."""

from textual.app import ComposeResult
from textual.containers import Vertical

from runner.screen import view_wording as wording
from runner.screen.full.bar import bar
from runner.screen.full.dial import Dial
from runner.screen.full.palette import Tone
from runner.screen.full.room import Room
from runner.screen.full.text_band import TextBand
from runner.screen.view import ClockView, View

_ONE_LINE = 70
"""Cells across that the battery's words and bar take together."""
_BATTERY_CELLS = 14
_BATTERY_LINES = 5
"""Lines of the battery in a tall side, with the margins."""
_TALL_LINES = 9
"""Lines of a tall dial with its margins."""


class Side(Vertical):
    """Dials of the open clocks, the battery line, and the items put off."""

    def compose(self) -> ComposeResult:
        """The parts from top to bottom; dials come and go."""
        yield Vertical(id="dials")
        yield TextBand("battery")
        yield TextBand("put-off")

    async def show(self, view: View, room: Room, *, is_wide: bool) -> None:
        """Draw clocks, battery and put-off items."""
        lines = room.body_lines - _BATTERY_LINES if is_wide else 0
        await self._show_clocks(view.clocks, is_tall=lines >= _TALL_LINES * len(view.clocks))
        tone = Tone.CAUTION if view.battery.is_warned else Tone.PLAIN
        battery = "" if "battery" in room.given_up else _battery(view, self.size.width)
        self.query_one("#battery", TextBand).show(battery, tone)
        later = "" if "put-off" in room.given_up else " · ".join(view.put_off)
        self.query_one("#put-off", TextBand).show(f"put off: {later}" if later else "")
        self.display = room.has_clocks and (is_wide or bool(view.clocks or battery or later))

    async def _show_clocks(self, clocks: tuple[ClockView, ...], *, is_tall: bool) -> None:
        """A dial for each open clock."""
        room = self.query_one("#dials", Vertical)
        dials = list(room.query(Dial))
        for dial, clock in zip(dials, clocks, strict=False):
            dial.show(clock)
        await room.mount_all(Dial(clock) for clock in clocks[len(dials) :])
        for dial in dials[len(clocks) :]:
            await dial.remove()
        for dial in room.query(Dial):
            dial.stand(is_tall=is_tall)


def _battery(view: View, width: int) -> str:
    """Words and bar on one line, or on three in a narrow side."""
    used, words = view.battery, wording.battery(view)
    if not words:
        return ""
    drawn = bar(used.share, _BATTERY_CELLS, (used.warn_share,))
    if width >= _ONE_LINE:
        return f"{words} {drawn}"
    return words
