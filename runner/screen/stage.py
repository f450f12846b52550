"""The stage: the item in force in large letters, and under it the answers with their keys."""

from textual.app import ComposeResult, RenderResult
from textual.containers import Vertical
from textual.content import Content
from textual.widget import Widget

from runner.screen import wording
from runner.screen.band import Band, keycap, packed
from runner.screen.lettering import ROWS, letter
from runner.screen.palette import Tone, outcome_tone
from runner.screen.view import Answer, View

_NARROWEST = 40
"""Cells across before the first layout has told."""
_CAP_ROWS = 3
"""Lines of a tall key."""


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


class Stage(Vertical):
    """Marks, the challenge, number entry and the answers, from top to bottom."""

    def compose(self) -> ComposeResult:
        """The parts from top to bottom."""
        yield Band("marks")
        yield Lettering("challenge")
        yield Band("entry")
        yield Band("answers")
        yield Band("refusal")

    def show(self, view: View) -> None:
        """Draw the item in force, with tall digits and keys where the challenge leaves room."""
        width, spare = self._room(view)
        entry = _entry(view, width, spare)
        answers = _answers(view, width, spare - entry.plain.count("\n") - 1)
        self.query_one("#marks", Band).show(_marks(view))
        self.query_one("#challenge", Lettering).show(wording.large(view), view.briefing)
        self.query_one("#entry", Band).show(entry)
        self.query_one("#answers", Band).show(answers)
        refusal = f" NOT TAKEN: {view.refusal} " if view.refusal else ""
        self.query_one("#refusal", Band).show(refusal, Tone.CAUTION)

    def _room(self, view: View) -> tuple[int, int]:
        """Cells across, and lines that the marks, the challenge and the cautions leave over."""
        width, height = self.content_size
        drawn = letter(wording.large(view), width, height) or ("",)
        return max(width, _NARROWEST), height - 1 - len(drawn) - 2 * len(view.briefing)


def _entry(view: View, width: int, spare: int) -> Content:
    """The reading's digits; large while they are what is asked for."""
    words = Content.styled(wording.entry(view), "bold")
    is_asked = bool(view.typed) or not view.question
    if view.gauge is None or not is_asked or spare < ROWS + 1:
        return words
    digits = letter(f"{view.typed}_ {view.gauge.unit}", width, ROWS) or ()
    return Content("\n").join([*map(Content, digits), words])


def _answers(view: View, width: int, spare: int) -> Content:
    """The answers below one another if there is room, else side by side, else in flat lines."""
    leave = [Content(wording.leave(view))] if wording.leave(view) else []
    caps = [tall_cap(answer) for answer in view.answers]
    if not caps:
        return packed(leave, width)
    if len(caps) * _CAP_ROWS + len(leave) <= spare:
        return Content("\n").join([*caps, *leave])
    abreast = [Content("   ").join(row) for row in zip(*(_squared(cap) for cap in caps), strict=True)]
    if _CAP_ROWS + len(leave) <= spare and abreast[1].cell_length <= width:
        return Content("\n").join([*abreast, *leave])
    return packed([*map(answer_cap, view.answers), *leave], width)


def _squared(cap: Content) -> list[Content]:
    """The lines of a tall key, all as long as its middle."""
    lines = cap.split("\n")
    longest = max(line.cell_length for line in lines)
    return [line.pad_right(longest - line.cell_length) for line in lines]


def tall_cap(answer: Answer) -> Content:
    """The same three lines high, for a roomy screen."""
    middle = Content.assemble(("  ", "reverse"), keycap(answer.key), ("  ", "reverse"), "  ")
    return Content("\n").join([Content("▄▄▄▄▄"), middle + answer_words(answer), Content("▀▀▀▀▀")])


def answer_cap(answer: Answer) -> Content:
    """A key and what it answers."""
    return Content.assemble(keycap(answer.key), " ") + answer_words(answer)


def answer_words(answer: Answer) -> Content:
    """What is answered; squawks and cautions in their colour, with the word."""
    tone = outcome_tone(answer.outcome)
    if tone is Tone.PLAIN:
        return Content(wording.answer(answer))
    return Content.styled(f" {wording.answer(answer)} ", f"$eo-{tone}-ink on $eo-{tone}-ground")


def _marks(view: View) -> Content:
    """Section and kind; for a question the challenge that it is about."""
    words = wording.marks(view)
    return Content(f"{words}: {view.challenge}" if view.question and words else words)
