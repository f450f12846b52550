"""The frame around the item: what run this is and how far, what was heard and said, and the words."""

from textual.content import Content

from runner.core.event import Channel
from runner.core.state import FINAL
from runner.screen import view_wording as wording
from runner.screen.full.bar import FULL, bar
from runner.screen.full.palette import Tone
from runner.screen.full.text_band import keycap, packed
from runner.screen.keys import HELP_KEY
from runner.screen.view import HeardVerdict, NoiseView, View

_WORD_LINES = 2
"""Lines that the words get."""
_SILENCE_DBFS = -60.0
"""The left end of the level bar."""


def state_words(view: View) -> Content:
    """The state as a word, and that answers go by keys where an ear is there but cannot hear."""
    is_deaf = view.sound.engine and view.sound.channel is Channel.KEYS and view.state not in FINAL
    words = f"{wording.drill_mark(view)}{wording.state_name(view).upper()}"
    return Content.styled(f" {words}{' BY KEYS' if is_deaf else ''} ", "bold")


def run_words(view: View) -> str:
    """Registration and check."""
    return "  ".join(filter(None, (view.registration, view.check)))


def progress_words(view: View, width: int) -> str:
    """How much of the check is done, as a bar and in numbers, and what was found."""
    words = ", ".join(filter(None, (f" {view.done} of {view.total} done", wording.counts(view))))
    share = view.done / view.total if view.total else 0.0
    return bar(share, max(width - len(words), 1)).replace(FULL, "━") + words


def ear_words(view: View) -> str:
    """Level, noise and channel."""
    level = view.sound.dbfs
    drawn = "" if level is None else bar(1 - level / _SILENCE_DBFS, 8) + " "
    return f"{drawn}{wording.ear(view)}"


def ear_tone(view: View) -> Tone:
    """A room too loud for the ear is a caution: answers go by keys."""
    return Tone.CAUTION if view.sound.noise is NoiseView.TOO_LOUD else Tone.PLAIN


def heard_tone(view: View) -> Tone:
    """What was heard and not taken asks for another answer: an advisory."""
    last = view.sound.heard
    return Tone.ADVISORY if last is not None and last.verdict is HeardVerdict.REFUSED else Tone.PLAIN


def word_caps(view: View, width: int) -> Content:
    """The standard words of which something would come, with their keys, as many as two lines hold."""
    pieces = [Content.assemble(keycap(key), f" {word}") for key, word in wording.word_keys(view)]
    more = Content.assemble(keycap(HELP_KEY), " all keys")
    for kept in range(len(pieces), -1, -1):
        drawn = packed([*pieces[:kept], more], width, "  ")
        if drawn.plain.count("\n") < _WORD_LINES:
            return drawn
    return more


def advisory_words(width: int) -> str:
    """The standing caution, and how to change the light where there is room for that."""
    light = "ctrl+t light"
    words = wording.advisory(width)
    spare = width - len(words)
    return f"{words}{light:>{spare}}" if spare > len(light) + 1 else words
