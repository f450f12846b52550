"""The pane of the item in force; where it has no room for all of it, it says so and shows nothing else."""

from textual.app import RenderResult
from textual.content import Content
from textual.widget import Widget

from runner.screen.full.drawn_item import draw_item
from runner.screen.view import View

TOO_SMALL = "TERMINAL TOO SMALL for this item. No answer is taken. Make it larger, or its letters smaller."


class Pane(Widget):
    """Draws the item anew when the view or the room has changed."""

    def __init__(self, first: View) -> None:
        super().__init__(id="pane")
        self._view = first
        self._is_too_small = False
        self._drawn: tuple[Content, ...] = ()

    def show(self, view: View, *, is_too_small: bool) -> None:
        """Draw this view; nothing happens when it looks as before."""
        self._view, self._is_too_small = view, is_too_small
        if self._lines() != self._drawn:
            self.refresh()

    def render(self) -> RenderResult:
        """The lines that fit."""
        self._drawn = self._lines()
        return Content("\n").join(self._drawn)

    def _lines(self) -> tuple[Content, ...]:
        width, height = self.content_size
        if self._is_too_small:
            return (Content.styled(TOO_SMALL, "bold"),)
        return draw_item(self._view, max(width, 1), height).lines
