"""An open clock: its seconds, a bar up to the limit with the advise time marked, and the key to end it."""

from textual.app import RenderResult
from textual.content import Content
from textual.widget import Widget

from runner.screen.full.bar import bar
from runner.screen.full.lettering import ROWS, drawn_width, letter
from runner.screen.full.palette import clock_tone
from runner.screen.full.text_band import keycap
from runner.screen.view import AnswerView, ClockView

_BAR_CELLS = 16


class Dial(Widget):
    """One clock: a single line in a small terminal, seconds in large digits where there is room."""

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
            self.refresh()

    def _class(self) -> None:
        """Its tone, and whether it has a second answer to make room for."""
        self.add_class(clock_tone(self._clock.state).value)
        self.set_class(len(self._clock.answers) > 1, "two-answers")

    def render(self) -> RenderResult:
        """The clock in as many lines as the dial has."""
        width, height = self.size
        if height > ROWS:
            return self._tall(width)
        return self._flat(width) if height == 1 else self._stacked(width)

    def _flat(self, width: int) -> Content:
        """One line; a clock past its limit has a full bar, so its answers get that room."""
        clock = self._clock
        figures = f"{clock.elapsed_seconds:3.0f} s {clock.state}"
        parts = [Content(f"{clock.name} {figures}"), *_caps(clock)]
        if len(clock.answers) == 1:
            parts[0] = Content(f"{clock.name:<14.14} {_bar(clock, _BAR_CELLS)} {figures:<16}")
        return Content("  ").join(parts).truncate(width, ellipsis=True)

    def _stacked(self, width: int) -> Content:
        """Words, bar and keys below one another, where the side is narrow and clocks are many."""
        clock = self._clock
        words = Content(f"{clock.name} {clock.elapsed_seconds:.0f} s {clock.state}")
        return Content("\n").join([words, Content(_bar(clock, width)), *_caps(clock)])

    def _tall(self, width: int) -> Content:
        """Seconds in large digits beside the words, then bar and keys."""
        clock = self._clock
        seconds = f"{int(clock.elapsed_seconds)} s"
        digits = letter(seconds, width, ROWS) or (seconds,)
        column = drawn_width(seconds) + 3
        figures = (f"advise {clock.advise_seconds:.0f} s", f"limit {clock.limit_seconds:.0f} s")
        words = (clock.name, str(clock.state), *figures)
        rows = [f"{line:<{column}}{word}" for line, word in zip(digits, words, strict=False)]
        drawn = [Content.styled(row, "bold") for row in rows]
        return Content("\n").join([*drawn, Content(_bar(clock, width)), *_caps(clock)])


def _bar(clock: ClockView, width: int) -> str:
    """Elapsed up to the limit, with the advise time marked."""
    limit = clock.limit_seconds or 1.0
    return bar(clock.elapsed_seconds / limit, width, (clock.advise_seconds / limit,))


def _caps(clock: ClockView) -> list[Content]:
    """Each answer with its key."""
    return [Content.assemble(keycap(answer.key), f" {_short(clock, answer)}") for answer in clock.answers]


def _short(clock: ClockView, answer: AnswerView) -> str:
    """The answer without the gyro's name, which stands beside it."""
    return answer.label.removeprefix(clock.name).lstrip(" ,") or answer.label


def _drawn_facts(clock: ClockView) -> tuple[object, ...]:
    """What a dial shows, to tell whether it must be drawn again."""
    return (clock.name, int(clock.elapsed_seconds), clock.state, clock.limit_seconds, clock.answers)
