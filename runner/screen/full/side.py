"""The side: what goes on beside the item in force; clocks, battery, items put off."""

from textual.app import ComposeResult
from textual.containers import Vertical

from runner.screen import view_wording as wording
from runner.screen.full.bar import bar
from runner.screen.full.dial import Dial
from runner.screen.full.palette import Tone
from runner.screen.full.text_band import TextBand
from runner.screen.view import ClockView, View

_ONE_LINE = 70
"""Cells across that the battery's words and bar take together."""
_BATTERY_CELLS = 14
_TALL_DIALS = 2
"""Dials that have room to be tall."""


class Side(Vertical):
    """Dials of the open clocks, the battery line, and the items put off."""

    def compose(self) -> ComposeResult:
        """The parts from top to bottom; dials come and go."""
        yield Vertical(id="dials")
        yield TextBand("battery")
        yield TextBand("put-off")

    async def show(self, view: View) -> None:
        """Draw clocks, battery and put-off items."""
        await self._show_clocks(view.clocks)
        tone = Tone.CAUTION if view.battery.is_warned else Tone.PLAIN
        self.query_one("#battery", TextBand).show(_battery(view, self.size.width), tone)
        later = " · ".join(view.put_off)
        self.query_one("#put-off", TextBand).show(f"put off: {later}" if later else "")

    async def _show_clocks(self, clocks: tuple[ClockView, ...]) -> None:
        """A dial for each open clock."""
        room = self.query_one("#dials", Vertical)
        dials = list(room.query(Dial))
        for dial, clock in zip(dials, clocks, strict=False):
            dial.show(clock)
        await room.mount_all(Dial(clock) for clock in clocks[len(dials) :])
        for dial in dials[len(clocks) :]:
            await dial.remove()
        room.set_class(len(clocks) > _TALL_DIALS, "crowded")


def _battery(view: View, width: int) -> str:
    """Words and bar on one line, or on three in a narrow side."""
    used, words = view.battery, wording.battery(view)
    if not words:
        return ""
    drawn = bar(used.share, _BATTERY_CELLS, (used.warn_share,))
    if width >= _ONE_LINE:
        return f"{words} {drawn}"
    return "\n".join((*words.split(", ", 1), drawn))
