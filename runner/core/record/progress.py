"""How far a run has come: what the fold of its entries (`fold.py`) yields, and nothing else."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from runner.core.event import Channel, Port
from runner.core.plan import Plan
from runner.core.record.answer_history import AnswerHistory
from runner.core.record.danger_stop import Stop
from runner.core.record.entry import (
    AnswerRecorded,
    BatteryWarned,
    Cause,
    ClockEnded,
    ConfirmationAsked,
    DeclaredUnable,
    Entry,
    Held,
    NoteRecorded,
    NoteStarted,
    NoteTyped,
    RunAbandoned,
    RunCompleted,
)
from runner.core.record.move import Move
from runner.core.record.once import once
from runner.core.record.spin_up_clock import SpinUpClock
from runner.language.catalogue import Outcome


@dataclass(frozen=True, slots=True)
class Position:
    """The selector came to a position with the answer of an item."""

    at: float
    position: str
    item: str


@dataclass(frozen=True, slots=True)
class Progress:
    """All that the record says about a run so far."""

    plan: Plan = field(repr=False)
    started_at: float | None = None
    are_cautions_taken: bool = False
    history: AnswerHistory = field(default_factory=AnswerHistory)
    """What the entries tell without the check: every answer given, and the end."""
    answers: Mapping[str, AnswerRecorded] = field(default_factory=dict)
    """By item; superseded ones are not here."""
    unable: Mapping[str, DeclaredUnable] = field(default_factory=dict)
    """Items that the pilot could not do."""
    clocks: Mapping[str, SpinUpClock] = field(default_factory=dict)
    """By spin-up item, in the order of power-on; open and ended ones."""
    put_off: tuple[str, ...] = ()
    """Items that are to come back, in the order of putting off."""
    done: tuple[str, ...] = ()
    """Items answered, ended or declared unable, the most recent last."""
    superseded: tuple[AnswerRecorded | ClockEnded | DeclaredUnable, ...] = ()
    """What was reopened by a correction; it stays in the record."""
    positions: tuple[Position, ...] = ()
    """Where the selector has been, in time order."""
    moves: tuple[Move, ...] = ()
    """What items have taken out of its place since the start, in the order of asking."""
    stops: tuple[Stop, ...] = ()
    """Every stop so far, over or not, in time order."""
    pending: ConfirmationAsked | None = None
    """The question that waits for affirm or negative."""
    held: Held | None = None
    noting: NoteStarted | None = None
    hindrances: frozenset[Cause] = frozenset()
    """What keeps the voice from being used: ROOM_LOUD, MIC_LOST, both or neither."""
    lost: Mapping[Port, str] = field(default_factory=dict)
    """Parts of the tool that have failed, each with its reason."""
    battery_warning: BatteryWarned | None = None
    notes: tuple[NoteRecorded | NoteTyped, ...] = ()
    holds: int = 0
    interruptions: int = 0
    """How often the program stopped and the run was reopened."""
    is_abandoning: bool = False
    known: dict[str, Any] = field(init=False, default_factory=dict, repr=False, compare=False)
    """What has been worked out of this progress already (`once.py`); a new progress starts with nothing."""

    @property
    def ended(self) -> RunCompleted | RunAbandoned | None:
        """How the run ended; None while it goes on."""
        return self.history.ended

    @property
    def channel(self) -> Channel:
        """How answers are taken at present."""
        return Channel.KEYS if self.hindrances or self.is_deaf else Channel.VOICE

    @property
    def is_deaf(self) -> bool:
        """The ear or the microphone has failed."""
        return Port.EAR in self.lost or Port.MICROPHONE in self.lost

    @property
    def may_record(self) -> bool:
        """Ear and microphone are there, as far as the record knows."""
        return not self.is_deaf and Cause.MIC_LOST not in self.hindrances

    @property
    @once
    def open_clocks(self) -> tuple[SpinUpClock, ...]:
        """Clocks that still want their phrase; none once the check is abandoned."""
        if self.is_abandoning:
            return ()
        return tuple(clock for clock in self.clocks.values() if clock.is_open)

    @property
    def last_done(self) -> str | None:
        """The item that was completed last."""
        return self.done[-1] if self.done else None

    @property
    @once
    def moved(self) -> tuple[Move, ...]:
        """What is out of its place now, last moved first."""
        return tuple(move for move in reversed(self.moves) if not move.returned_by)

    @property
    @once
    def moved_since(self) -> frozenset[str]:
        """Items that were answered and are open again: what they return was moved after that."""
        return frozenset(move.back for move in self.moved if self.is_done(move.item))

    @property
    @once
    def stop(self) -> Stop | None:
        """The stop that the run stays at; the latest, should one have come up in returning for another."""
        return next((stop for stop in reversed(self.stops) if stop.is_in_force), None)

    @property
    def is_returning(self) -> bool:
        """What was moved is asked back now, before anything else."""
        return self.is_abandoning or bool(self.stop and self.stop.movers and self.moved)

    def is_settled(self, name: str) -> bool:
        """True when the item was answered, its clock ended, or it was declared unable.

        An item that returns something is open again when that was moved after its answer.
        """
        return self.is_done(name) and name not in self.moved_since

    def is_done(self, name: str) -> bool:
        """True when the record has a standing end of this item, whatever has been moved since."""
        clock = self.clocks.get(name)
        is_ended = clock is not None and not clock.is_open
        return is_ended or name in self.answers or name in self.unable

    def outcome(self, name: str) -> Outcome | None:
        """What the standing answer or the ended clock of an item means; None where there is neither."""
        answer, clock = self.answers.get(name), self.clocks.get(name)
        if answer is not None:
            return answer.outcome
        return None if clock is None or clock.ended is None else clock.ended.outcome

    def after(self, entry: Entry) -> Progress:
        """The progress with one more entry; RecordError when the entry belongs to another check."""
        from runner.core.record.fold import take_in  # noqa: PLC0415 - the fold builds on this class

        return take_in(self, entry)
