"""An open clock: its seconds, a bar up to the limit with the advise time marked, and what ends it."""

from textual.app import RenderResult
from textual.content import Content
from textual.widget import Widget

from runner.screen import view_wording as wording
from runner.screen.full.bar import bar
from runner.screen.full.lettering import ROWS, drawn_width, letter
from runner.screen.full.palette import clock_tone
from runner.screen.full.text_band import keycap
from runner.screen.view import ClockView

_BAR_CELLS = 12


def flat_lines(clock: ClockView, width: int) -> int:
    """Lines of a dial that is not tall: one where all fits, else its keys go below."""
    return len(_flat(clock, width))


class Dial(Widget):
    """One clock: in few lines in a small terminal, seconds in large digits where there is room."""

    def __init__(self, clock: ClockView) -> None:
        super().__init__()
        self._clock = clock
        self._class()

    def show(self, clock: ClockView) -> None:
        """Draw the clock; nothing happens within the same whole second."""
        if _drawn_facts(clock) != _drawn_facts(self._clock):
            self.remove_class(clock_tone(self._clock.state).value)
            self._clock = clock
            self._class()
            self.refresh(layout=True)

    def stand(self, *, is_tall: bool) -> None:
        """Tall, or flat where there is little room."""
        if is_tall is not self.has_class("tall"):
            self.set_class(is_tall, "tall").refresh(layout=True)

    def _class(self) -> None:
        """Its tone."""
        self.add_class(clock_tone(self._clock.state).value)

    def render(self) -> RenderResult:
        """The clock in as many lines as the dial has."""
        width, is_tall = self.content_size.width, self.has_class("tall")
        return Content("\n").join(_tall(self._clock, width) if is_tall else _flat(self._clock, width))


def _flat(clock: ClockView, width: int) -> list[Content]:
    """All in one line if it fits: bar, figures, name, then each answer with its key; else more lines."""
    figures = f"{clock.elapsed_seconds:3.0f} s {clock.state}"
    caps = _caps(clock)
    head = Content(f"{_bar(clock, _BAR_CELLS)} {figures:<17} {clock.name}")
    one = Content("  ").join([head, *caps])
    if one.cell_length <= width:
        return [one]
    heads = [head] if head.cell_length <= width else _narrow_head(clock, width)
    return [part for line in (*heads, *caps) for part in line.wrap(max(width, 1))]


def _narrow_head(clock: ClockView, width: int) -> list[Content]:
    """Words over the bar, where they do not stand beside one another."""
    words = f"{clock.name} {clock.elapsed_seconds:.0f} s {clock.state}"
    return [Content(words), Content(_bar(clock, width))]


def _tall(clock: ClockView, width: int) -> list[Content]:
    """Seconds in large digits beside the words, then bar and keys."""
    seconds = f"{int(clock.elapsed_seconds)} s"
    digits = letter(seconds, width, ROWS) or (seconds,)
    column = drawn_width(seconds) + 3
    figures = (f"advise {clock.advise_seconds:.0f} s", f"limit {clock.limit_seconds:.0f} s")
    words = (clock.name, str(clock.state), *figures)
    rows = [f"{line:<{column}}{word}" for line, word in zip(digits, words, strict=False)]
    drawn = [Content.styled(row, "bold") for row in rows]
    keys = [part for line in _caps(clock) for part in line.wrap(max(width, 1))]
    return [*drawn, Content(_bar(clock, width)), *keys]


def _bar(clock: ClockView, width: int) -> str:
    """Elapsed up to the limit, with the advise time marked."""
    limit = clock.limit_seconds or 1.0
    return bar(clock.elapsed_seconds / limit, width, (clock.advise_seconds / limit,))


def _caps(clock: ClockView) -> list[Content]:
    """Each answer with its key, in the words that the ear takes."""
    return [Content.assemble(keycap(f" {one.key} "), f" {wording.flag(one)}") for one in clock.answers]


def _drawn_facts(clock: ClockView) -> tuple[object, ...]:
    """What a dial shows, to tell whether it must be drawn again."""
    return (clock.name, int(clock.elapsed_seconds), clock.state, clock.limit_seconds, clock.answers)
