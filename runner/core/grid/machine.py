"""The machine: one event in, one step of the table, the state and the effects out."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from runner.core.ask.agenda import item_in_force, owed_entries, passed_clocks, state_of
from runner.core.ask.alert import alerts_in, still_counting
from runner.core.ask.phrases_now import phrases_in_force
from runner.core.effect import Append, Effect, Finish, Listen, Record, Say, Show
from runner.core.event import Answered, Channel, Event, Misheard, PlaybackEnded
from runner.core.grid import table
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.grid.transmission import Telling, transmit
from runner.core.grid.turn import Question, Turn
from runner.core.plan import Plan
from runner.core.record.entry import AnswerRecorded, DeclaredUnable, Entry, PutOff
from runner.core.record.fold import fold
from runner.core.record.progress import Progress
from runner.core.state import FINAL, State
from runner.language.catalogue import Word
from runner.language.meaning import Command

Step = tuple[State, tuple[Effect, ...]]

AT_AN_ITEM: Final = frozenset({State.ASKING, State.STOPPED, State.RESTORING})
"""States whose question is that of the item in force."""


@dataclass(frozen=True, slots=True)
class LastHeard:
    """The last thing that was heard or keyed."""

    at: float
    text: str
    """Empty when nothing could be made of it."""
    confidence: float
    is_taken: bool
    """It counted for something."""
    channel: Channel


class Machine:
    """One run of a check. What it knows is the fold of its entries, and which turn is being spoken.

    Made with the entries of a run that was stopped, it is in the state of that record; Started then
    puts Interrupted on record, adds what the record still owes, and asks the item in force again.
    ValueError for a check that does not end with its completion call.
    """

    def __init__(self, plan: Plan, entries: Iterable[Entry] = ()) -> None:
        items = plan.check.items
        if not items or not items[-1].body.is_call:
            raise ValueError(f'check "{plan.check.name}" does not end with a completion call')
        self.progress: Progress = fold(plan, entries)
        self.last_heard: LastHeard | None = None
        self._turn = Turn(0, _question(self.progress), "")
        self._before: Turn | None = None
        self._misses = 0
        self._unheard: tuple[str, ...] = ()

    @property
    def state(self) -> State:
        """Where the run stands."""
        return state_of(self.progress)

    @property
    def turn(self) -> int:
        """The number of the turn whose phrases are in force."""
        return self._turn.number

    @property
    def reads_back(self) -> str:
        """The item whose answer this turn's prompt reads back, so that it may be denied; empty for none."""
        return self._turn.reads_back

    @property
    def rest(self) -> tuple[str, ...]:
        """Breaths that follow this turn's by themselves."""
        return self._turn.rest

    @property
    def transmission(self) -> str:
        """All that is said in this turn, in however many breaths; empty before the first."""
        return self._turn.transmission

    @property
    def last_said(self) -> str:
        """What is said in this turn; empty before the first."""
        return self._turn.text

    def handle(self, event: Event) -> Step:
        """The state after the event, and what is to be done, in order; no effects when it changes nothing."""
        state = self.state
        self._note_playback(event)
        moment = self._moment()
        reply, cell = table.step(moment, event)
        self._note_hearing(event, reply)
        if reply is None:
            return state, ()
        entries, progress = _settled(self.progress, reply.entries, event.at)
        if not cell.may_lead_to(state_of(progress), moment):
            raise AssertionError(f"{type(event).__name__} may not lead from {state} to {state_of(progress)}")
        passed = _reminders(self.progress, progress, entries)
        self.progress = progress
        self._unheard += alerts_in(entries)
        spoken = self._speak(reply, event.at, passed, has_entries=bool(entries))
        return self.state, (*map(Append, entries), *spoken)

    def may_act(self, word: Word, at: float) -> bool:
        """Whether something would come of this word, were it said at `at`; nothing changes by asking."""
        answer = Answered(at, self.turn, Command(word), word.value, 1.0, at, Channel.KEYS)
        reply, _ = table.step(self._moment(), answer)
        return reply is not None and not (reply.is_refusal or reply.is_miss)

    def _moment(self) -> Moment:
        return Moment(self.progress, self.state, self._turn, self._before, self._misses)

    def _note_playback(self, event: Event) -> None:
        """An alert has been heard when the prompt that holds it came to its end uncut."""
        if isinstance(event, PlaybackEnded) and event.turn == self.turn and not self._turn.rest:
            self._unheard = tuple(alert for alert in self._unheard if alert not in self._turn.alerts)

    def _note_hearing(self, event: Event, reply: Reply | None) -> None:
        if not isinstance(event, (Answered, Misheard)):
            return
        is_taken = reply is not None and not reply.is_miss
        channel = event.channel if isinstance(event, Answered) else Channel.VOICE
        self.last_heard = LastHeard(event.at, event.text or "", event.confidence, is_taken, channel)
        if reply is not None:
            self._misses = self._misses + 1 if reply.is_miss else 0

    def _speak(
        self, reply: Reply, at: float, passed: tuple[str, ...], *, has_entries: bool
    ) -> tuple[Effect, ...]:
        if reply.heard_out_at is not None:
            self._turn = _heard_out(self._turn, reply.heard_out_at)
        if reply.is_silent:
            listening = () if self.state is State.NOTING else (self._listen(),)
            return (*listening, Show()) if has_entries else ()
        if reply.is_next_breath:
            self._turn = self._turn.next_breath()
            return self._said()
        alerts = still_counting(self.progress, (*reply.alerts, *self._unheard))
        self._turn, self._before = self._next_turn(reply, Telling(at, alerts, passed)), self._turn
        return self._said()

    def _said(self) -> tuple[Effect, ...]:
        """This turn's breath, and what counts as its answer."""
        state, turn = self.state, self._turn
        said = Say(turn.number, turn.text, turn.read_back)
        if state in FINAL:
            return (said, Show(), *(() if turn.said else (Finish(),)))
        if state is State.NOTING:
            return (said, self._listen(), Record(self.turn), Show())
        return (said, self._listen(), Show())

    def _next_turn(self, reply: Reply, telling: Telling) -> Turn:
        """A question that is asked again keeps the time of its first asking and what may still be denied."""
        question = _question(self.progress)
        is_same = question == self._turn.question
        is_deniable = is_same and self._turn.reads_back == self.progress.last_done
        manner = reply.manner or self._turn.manner
        transmission = transmit(self.progress, reply, self._turn, manner, telling)
        return Turn(
            number=self.turn + 1,
            question=question,
            text=transmission.breaths[0],
            rest=transmission.breaths[1:],
            read_back=transmission.read_back,
            manner=manner,
            asked_at=self._turn.asked_at if is_same else None,
            is_reminded=reply.is_reminder or (is_same and self._turn.is_reminded),
            alerts=telling.alerts,
            reads_back=reply.reads_back or (self._turn.reads_back if is_deniable else ""),
        )

    def _listen(self) -> Listen:
        return Listen(self.turn, phrases_in_force(self.progress))


def _settled(progress: Progress, entries: tuple[Entry, ...], at: float) -> tuple[tuple[Entry, ...], Progress]:
    """The entries with all that follows from them, and the progress after the last one."""
    taken: list[Entry] = []
    owed = entries
    while owed:
        for entry in owed:
            progress = progress.after(entry)
        taken += owed
        owed = owed_entries(progress, at)
    return tuple(taken), progress


def _heard_out(turn: Turn, at: float) -> Turn:
    """The turn after its prompt's end; the first end counts, of the prompt and of the question."""
    return replace(
        turn,
        asked_at=at if turn.asked_at is None else turn.asked_at,
        ended_at=at if turn.ended_at is None else turn.ended_at,
    )


def _reminders(before: Progress, progress: Progress, entries: tuple[Entry, ...]) -> tuple[str, ...]:
    """Items of running clocks that are passed on the way from one item to the next."""
    names = [entry.item for entry in entries if isinstance(entry, (AnswerRecorded, DeclaredUnable, PutOff))]
    if not names or names[-1] in before.put_off or state_of(progress) is not State.ASKING:
        return ()
    following = item_in_force(progress)
    passed = () if following is None else passed_clocks(progress, names[-1], following.name)
    return tuple(clock.item for clock in passed)


def _question(progress: Progress) -> Question:
    state = state_of(progress)
    if state is State.CONFIRMING and progress.pending is not None:
        pending = progress.pending
        return Question(state, f"{pending.item} {pending.number} {pending.origin.onset_at}")
    item = item_in_force(progress) if state in AT_AN_ITEM else None
    return Question(state, "" if item is None else item.name)
