"""The pane of the item in force: its challenge in large letters, under it the answers with their keys."""

from textual.app import ComposeResult, RenderResult
from textual.containers import Vertical
from textual.content import Content
from textual.widget import Widget

from runner.screen import view_wording as wording
from runner.screen.full.drawn_keys import arranged
from runner.screen.full.lettering import ROWS, letter
from runner.screen.full.palette import Tone
from runner.screen.full.text_band import TextBand, keycap
from runner.screen.view import View

_NARROWEST = 40
"""Cells across before the first layout has told."""


class Lettering(Widget):
    """The largest text of the screen, in plain bold where letters of blocks do not fit."""

    def __init__(self, name: str) -> None:
        super().__init__(id=name)
        self._text = ""
        self._below: tuple[str, ...] = ()

    def show(self, text: str, below: tuple[str, ...] = ()) -> None:
        """Draw the text, with paragraphs below it; nothing happens when they stand there already."""
        if (text, below) != (self._text, self._below):
            self._text, self._below = text, below
            self.refresh()

    def render(self) -> RenderResult:
        """The text as large as the room allows."""
        width, height = self.size
        below = [Content(f"• {paragraph}") for paragraph in self._below]
        wrapped = [line for paragraph in below for line in paragraph.wrap(max(width, 1))]
        room = height - len(wrapped) - bool(wrapped)
        drawn = letter(self._text, width, room)
        head = Content.styled(self._text, "bold") if drawn is None else Content("\n".join(drawn))
        return Content("\n").join([head, *([Content("")] if wrapped else []), *wrapped])


class Pane(Vertical):
    """Marks, what stops the run, the challenge, number entry and the answers, from top to bottom."""

    def __init__(self, first: View) -> None:
        super().__init__(id="pane")
        self._view = first

    def compose(self) -> ComposeResult:
        """The parts from top to bottom."""
        yield TextBand("help")
        yield TextBand("marks")
        yield TextBand("stop")
        yield Lettering("large")
        yield TextBand("entry")
        yield TextBand("answers")
        yield TextBand("refusal")

    def on_resize(self) -> None:
        """Fit the sizes of everything into the new room."""
        self.show(self._view)

    def show(self, view: View) -> None:
        """Draw the item in force, with tall digits and keys where the challenge leaves room."""
        self._view = view
        self.query_one("#large", Lettering).display = not view.shows_keys
        self.query_one("#help", TextBand).show(_help(view) if view.shows_keys else "")
        if view.shows_keys:
            for name in ("marks", "stop", "entry", "answers", "refusal"):
                self.query_one(f"#{name}", TextBand).show("")
            return
        width, spare = self._room(view)
        entry = _entry(view, width, spare)
        answers = arranged(view.answers, wording.leave(view), width, spare - len(entry.plain.splitlines()))
        self.query_one("#marks", TextBand).show(_marks(view))
        self.query_one("#stop", TextBand).show(wording.stop(view), Tone.WARNING if view.stop else Tone.PLAIN)
        self.query_one("#large", Lettering).show(wording.large(view), view.briefing)
        self.query_one("#entry", TextBand).show(entry)
        self.query_one("#answers", TextBand).show(answers)
        refusal = f" NOT TAKEN: {view.refusal} " if view.refusal else ""
        self.query_one("#refusal", TextBand).show(refusal, Tone.CAUTION)

    def _room(self, view: View) -> tuple[int, int]:
        """Cells across, and lines that the marks, the challenge and the cautions leave over."""
        width, height = self.content_size
        marks = 1 + self.query_one("#large").styles.margin.top
        drawn = letter(wording.large(view), width, height) or ("",)
        stop = len(Content(wording.stop(view)).wrap(max(width, 1))) if view.stop else 0
        return max(width, _NARROWEST), height - marks - stop - len(drawn) - 2 * len(view.briefing)


def _help(view: View) -> Content:
    """Every kind of key, a line each."""
    wide = max(len(keys) for keys, _ in wording.KEY_HELP)
    lines = [Content.assemble(keycap(f"{keys:<{wide}}"), f"  {what}") for keys, what in wording.KEY_HELP]
    return Content("\n").join([*lines, Content("any key goes back" if view.shows_keys else "")])


def _entry(view: View, width: int, spare: int) -> Content:
    """The reading's digits; large while they are what is asked for."""
    words = Content.styled(wording.entry(view), "bold")
    if view.is_note_typed:
        return Content.styled(f"{view.typed}_", "bold")
    is_asked = bool(view.typed) or not view.question
    if view.gauge is None or not is_asked or spare < ROWS + 1:
        return words
    digits = letter(f"{view.typed}_ {view.gauge.unit}", width, ROWS) or ()
    return Content("\n").join([*map(Content, digits), Content(wording.entry_hint(view))])


def _marks(view: View) -> Content:
    """Section, kind and critical mark; for a question the challenge that it is about."""
    mark = (f" {wording.CRITICAL} ", "reverse") if view.is_critical else ""
    about = f"  {view.challenge}" if view.question and view.kind else ""
    return Content.assemble(wording.place(view), " " if mark else "", mark, about)
