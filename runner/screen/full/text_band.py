"""A band of the screen: text that is drawn again only when it or its tone has changed."""

from textual.content import Content
from textual.widgets import Static

from runner.screen.full.palette import Tone


class TextBand(Static):
    """Text in one tone. One whose height is auto takes no room while it is empty."""

    def __init__(self, name: str) -> None:
        super().__init__(id=name, markup=False)
        self._shown: Content | None = None
        self._tone = Tone.PLAIN

    def show(self, content: Content | str, tone: Tone = Tone.PLAIN) -> None:
        """Draw the content; nothing happens when it is what stands there already."""
        wanted = Content(content) if isinstance(content, str) else content
        if self._shown is None or not wanted.is_same(self._shown):
            self._shown = wanted
            self.update(wanted, layout=self.styles.is_auto_height or self.styles.is_auto_width)
            self.display = bool(wanted) or not self.styles.is_auto_height
        if tone is not self._tone:
            self.remove_class(self._tone.value).add_class(tone.value)
            self._tone = tone


def keycap(key: str) -> tuple[str, str]:
    """A key as it is drawn everywhere: reversed, so that it stands out without colour."""
    return (key, "bold reverse")


def packed(pieces: list[Content], width: int, gap: str = "   ") -> Content:
    """Pieces side by side, none broken over two lines."""
    lines: list[Content] = []
    for piece in pieces:
        if lines and lines[-1].cell_length + len(gap) + piece.cell_length <= width:
            lines[-1] = lines[-1] + gap + piece
        else:
            lines.append(piece)
    return Content("\n").join(lines)
