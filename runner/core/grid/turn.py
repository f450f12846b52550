"""Turns: one question, spoken or shown, and which late answers still count for it."""

from dataclasses import dataclass, replace

from runner.core.event import Answered
from runner.core.state import State


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked: the same question may be spoken in several turns."""

    state: State
    subject: str
    """The item that it is about, or empty."""


@dataclass(frozen=True, slots=True)
class Manner:
    """How prompts are said, as the pilot has asked for; it lasts until the program stops."""

    is_slower: bool = False
    """All at a hundred words a minute or less."""
    is_twice: bool = False
    """Each question is said twice."""


@dataclass(frozen=True, slots=True)
class Turn:
    """One pair of Say and Listen."""

    number: int
    question: Question
    text: str
    """What is said in this turn: one breath of a transmission."""
    asked_at: float | None = None
    """When this question's challenge was first heard to its end; None while it plays for the first time."""
    ended_at: float | None = None
    """When this turn's own prompt was heard to its end; silence counts from here."""
    is_reminded: bool = False
    """Silence has made the run ask this question once more already."""
    alerts: tuple[str, ...] = ()
    """Alerts that this turn's prompt holds (`alert.py`)."""
    reads_back: str = ""
    """The item whose answer this turn's prompt reads back."""
    said: tuple[str, ...] = ()
    """Breaths of the same transmission that went before."""
    rest: tuple[str, ...] = ()
    """Breaths that are still to follow."""
    read_back: tuple[str, ...] = ()
    """Sentences of the transmission that are said at the pace of a read-back."""
    manner: Manner = Manner()

    @property
    def transmission(self) -> str:
        """All that is said, word for word."""
        return " ".join((*self.said, self.text, *self.rest))

    @property
    def unsaid(self) -> tuple[str, ...]:
        """This breath and what follows, while something follows."""
        return (self.text, *self.rest) if self.rest else ()

    @property
    def first(self) -> int:
        """The number of the turn that began this transmission."""
        return self.number - len(self.said)

    def next_breath(self) -> "Turn":
        """The turn that goes on with this transmission."""
        return replace(
            self,
            number=self.number + 1,
            text=self.rest[0],
            ended_at=None,
            said=(*self.said, self.text),
            rest=self.rest[1:],
        )


def counts(event: Answered, turn: Turn, before: Turn | None, *, is_lasting: bool) -> bool:
    """Whether what was said belongs to this turn, or still to the one before.

    Every breath of a transmission counts as the whole of it: where prompts are not heard, they go by in an
    instant. The turn before counts when it asked the same question (a reminder or a repetition came between),
    and for what means the same whatever is asked. Anything older is stale.
    """
    if turn.first <= event.turn <= turn.number:
        return True
    if before is None or not before.first <= event.turn <= before.number:
        return False
    return is_lasting or before.question == turn.question
