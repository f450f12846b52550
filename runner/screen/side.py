"""The side: what goes on beside the item in force; clocks, battery, items put off."""

from textual.app import ComposeResult
from textual.containers import Vertical

from runner.screen import wording
from runner.screen.band import Band
from runner.screen.bar import bar
from runner.screen.dial import Dial
from runner.screen.palette import Tone
from runner.screen.view import Clock, View

_ONE_LINE = 70
"""Cells across that the battery's words and bar take together."""
_TALL_DIALS = 2
"""Dials that have room to be tall."""


class Side(Vertical):
    """Dials of the open clocks, the battery line, and the items put off."""

    def compose(self) -> ComposeResult:
        """The parts from top to bottom; dials come and go."""
        yield Vertical(id="dials")
        yield Band("battery")
        yield Band("put-off")

    async def show(self, view: View) -> None:
        """Draw clocks, battery and put-off items."""
        await self._show_clocks(view.clocks)
        used = view.battery
        tone = Tone.CAUTION if used.is_warned else Tone.PLAIN
        gap = " " if self.size.width >= _ONE_LINE else "\n"
        drawn = bar(used.share, 14, (used.warn_share,))
        self.query_one("#battery", Band).show(f"{wording.battery(view)}{gap}{drawn}", tone)
        later = ", ".join(view.put_off)
        self.query_one("#put-off", Band).show(f"put off: {later}" if later else "")

    async def _show_clocks(self, clocks: tuple[Clock, ...]) -> None:
        room = self.query_one("#dials", Vertical)
        dials = list(room.query(Dial))
        for dial, clock in zip(dials, clocks, strict=False):
            dial.show(clock)
        await room.mount_all(Dial(clock) for clock in clocks[len(dials) :])
        for dial in dials[len(clocks) :]:
            await dial.remove()
        room.set_class(len(clocks) > _TALL_DIALS, "crowded")
