from collections import Counter
from dataclasses import replace
from decimal import Decimal
from random import Random
from typing import get_args

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from runner.checklist.format.check import Body, Condition, Item
from runner.checklist.kind.action import Action
from runner.checklist.kind.choice import Choice
from runner.checklist.kind.dead import Dead
from runner.checklist.kind.named_state import NamedState
from runner.checklist.kind.reading import Reading
from runner.checklist.kind.spin_up import SpinUp
from runner.core.ask.agenda import applies, is_critical, state_of
from runner.core.ask.outlook import outlook_of
from runner.core.ask.phrases_now import phrases_in_force
from runner.core.effect import Append
from runner.core.event import (
    Answered,
    Channel,
    Event,
    MicBack,
    MicLost,
    Misheard,
    NoteEnded,
    PlaybackEnded,
    Port,
    PortBack,
    PortFailed,
    Reason,
    RoomGrewLoud,
    RoomGrewQuiet,
    Started,
    Ticked,
)
from runner.core.grid.machine import Machine
from runner.core.plan import Plan
from runner.core.record.entry import AnswerRecorded, Entry, Reopened, RunCompleted
from runner.core.record.fold import fold
from runner.core.record.progress import Progress
from runner.core.state import FINAL
from runner.core.state import State as RunState
from runner.language.catalogue import Outcome, Word
from runner.language.meaning import Command, Corrected, Meaning, Picked, Pulled, Stuck, Value
from tests.core import danger
from tests.core.sample import (
    PLAN,
    RESTORE,
    VOLTS,
    Run,
    answer_by_the_book,
    finish,
    gyro,
    item,
    meaning_by_the_book,
    plan_of,
    response,
)


def meanings_of(plan: Plan) -> list[Meaning]:
    """Everything that can be meant in a check, whether in force or not."""
    found: list[Meaning] = [Command(word) for word in Word]
    for each in plan.check.items:
        if isinstance(each.body, SpinUp):
            found += [Pulled(each.name), Stuck(each.name)]
        elif isinstance(each.body, Reading):
            found += [
                Value(each.name, Decimal(number)) for number in ("24.6", "22.5", "31", "19.5", "33.5", "99")
            ]
        else:
            found += [Picked(each.name, answer.label) for answer in each.responses]
    return [*found, *(Corrected(meaning) for meaning in found if isinstance(meaning, Picked | Value))]


def assert_ended_well(progress: Progress) -> None:
    """No completion with an open clock, a critical item unanswered, or danger; no end with a thing out."""
    items = [each for each in progress.plan.check.items if applies(progress, each)]
    if isinstance(progress.ended, RunCompleted):
        assert not any(clock.is_open for clock in progress.clocks.values())
        assert all(progress.is_settled(each.name) for each in items)
        assert not any(each.name in progress.unable for each in items if is_critical(each))
        assert not progress.put_off
        assert all(stop.is_over for stop in progress.stops)
    if progress.ended is not None:
        assert progress.moved == ()
    if progress.ended is not None and any(held.position == "reserve" for held in progress.positions):
        restorations = [progress.answers[each.name] for each in items if each.restores]
        is_back = progress.positions[-1].position == "normal"
        assert restorations
        assert is_back or any(answer.outcome is Outcome.SQUAWK for answer in restorations)


def assert_stays_stopped(run: Run) -> None:
    """Danger is no answer and no squawk; while it stands, only its item and returns are asked."""
    answered = [entry for entry in run.entries if isinstance(entry, AnswerRecorded)]
    assert all(answer.outcome is not Outcome.STOP for answer in answered)
    stop, outlook = run.machine.progress.stop, outlook_of(run.machine.progress)
    if stop is None or run.machine.progress.ended is not None:
        return
    assert outlook.state not in (RunState.ASKING, RunState.WAITING, RunState.BRIEFING)
    assert not run.machine.progress.is_settled(stop.item)
    if outlook.state is RunState.STOPPED:
        assert outlook.item is not None
        assert outlook.item.name == stop.item
    if outlook.state is RunState.RESTORING:
        assert outlook.item is not None
        assert returns_of(run.plan, outlook.item.name) & {move.switch for move in run.machine.progress.moved}


def switches_of(plan: Plan, name: str) -> set[str]:
    """What asking the item may move, told by the check alone."""
    each = plan.check.item(name)
    selects = isinstance(each.body, Action) and each.body.selects == "reserve"
    return {*each.moves, *(["selector"] if selects else [])}


def returns_of(plan: Plan, name: str) -> set[str]:
    """What an answer to the item puts back, told by the check alone."""
    each = plan.check.item(name)
    return {*each.returns, *(["selector"] if each.restores else [])}


KINDS = ("action", "reading", "state", "dead", "gyro", "choice", "mover", "mover")


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Small checks: a choice, gyros on any trigger, readings, lamps, moves, returns, restoration, call."""
    names = (f"item {number}" for number in range(100))
    choice = item(next(names), Choice((response("new"), response("old"))))
    power = item(
        next(names),
        Action((response("on"), response("off", Outcome.SQUAWK)), "reserve"),
        critical=draw(st.booleans()),
    )
    items = [choice, power]
    for kind in draw(st.lists(st.sampled_from(KINDS), max_size=6)):
        items.append(_item(draw, next(names), kind, items))
    ordered = [*items, RESTORE]
    for mover in (each for each in items if each.moves):
        at = draw(st.integers(ordered.index(mover) + 1, len(ordered)))
        ordered.insert(at, _return(draw, f"{mover.name} back", mover))
    return plan_of(*ordered)


def _item(draw: st.DrawFn, name: str, kind: str, earlier: list[Item]) -> Item:
    when = draw(st.none() | st.just(Condition("item 0", ("old",))))
    critical = draw(st.booleans())
    if kind == "gyro":
        triggers = [each.name for each in earlier if isinstance(each.body, (Action, NamedState))]
        made = gyro(name, 20, 50, starts_on=draw(st.sampled_from(triggers)))
        return Item(made.name, made.challenge, made.body, made.why, made.place, critical, when=when)
    stops = (response("danger", Outcome.STOP),) if draw(st.booleans()) else ()
    answers = (response("good"), response("poor", Outcome.CAUTION), response("bad", Outcome.SQUAWK), *stops)
    bodies: dict[str, Body] = {
        "action": Action(answers),
        "mover": Action(answers),
        "reading": replace(VOLTS, stop_below=Decimal(20), stop_above=Decimal(33)) if stops else VOLTS,
        "state": NamedState(answers),
        "dead": Dead(answers, ("load",)),
        "choice": Choice(answers[:3]),
    }
    made = item(name, bodies[kind], critical=critical, looks=draw(st.booleans()), when=when)
    moves = draw(st.sampled_from([("heater",), ("dimmer",), ("heater", "radio")])) if kind == "mover" else ()
    return replace(made, moves=moves, remedy="Make it safe" if stops else "")


def _return(draw: st.DrawFn, name: str, mover: Item) -> Item:
    answers = [response("back"), response("jammed", Outcome.SQUAWK)]
    if draw(st.booleans()):
        answers.append(response("danger", Outcome.STOP))
    made = item(name, Action(tuple(answers)), critical=True, when=mover.when)
    return replace(made, returns=mover.moves, remedy="Make it safe" if len(answers) > 2 else "")


class AnyRun(RuleBasedStateMachine):
    """Random events, valid and stale, over random checks; the run is replayed at every step."""

    run: Run
    out: set[str]
    """What may be out of its place: moved when its item was asked, back when its return was answered."""
    seen: int
    """Entries that have been counted for it."""

    @initialize(plan=plans())
    def begin(self, plan: Plan) -> None:
        """A run that has begun; `Run` compares the fold of its entries with its state at every step."""
        self.run = Run(plan).start().say(Word.CONTINUE)
        self.out, self.seen = set(), 0

    def _watch(self, new: list[Entry]) -> None:
        """Keep count of what is out, by what is asked and answered alone."""
        plan = self.run.plan
        for entry in new:
            if isinstance(entry, AnswerRecorded):
                self.out -= returns_of(plan, entry.item)
            elif isinstance(entry, Reopened):
                self.out |= returns_of(plan, entry.item) & self._ever()
        if self.run.state in (RunState.ASKING, RunState.RESTORING):
            asked = outlook_of(self.run.machine.progress).item
            self.out |= set() if asked is None else switches_of(plan, asked.name)

    def _ever(self) -> set[str]:
        """Everything that has been out since the start."""
        return {move.switch for move in self.run.machine.progress.moves}

    @rule(choose=st.randoms(use_true_random=False), after=st.floats(-5, 40), back=st.integers(-1, 3))
    def answer_anything(self, choose: Random, after: float, back: int) -> None:
        """Anything that can be meant, to this turn or another one."""
        meaning = choose.choice(meanings_of(self.run.plan))
        number = self.run.machine.turn - back
        onset_at = self.run.at + after
        self.run.at += 0.3
        self.run.take(
            Answered(self.run.at, number, meaning, "x", 0.8, onset_at, choose.choice(list(Channel)))
        )

    @rule(choose=st.randoms(use_true_random=False), after=st.floats(0, 20))
    def answer_what_is_in_force(self, choose: Random, after: float) -> None:
        """Something that counts now."""
        meanings = list(dict.fromkeys(self._in_force()))
        if meanings:
            self.run.mean(choose.choice(meanings), after=after)

    @rule()
    def answer_by_the_book(self) -> None:
        """One step on the straight way."""
        if self.run.state not in FINAL:
            answer_by_the_book(self.run)

    @rule(seconds=st.floats(0, 60))
    def let_time_pass(self, seconds: float) -> None:
        """Clocks come due, the battery runs down."""
        self.run.tick(seconds)

    @rule(kind=st.integers(0, 13), back=st.integers(0, 2))
    def let_something_happen(self, kind: int, back: int) -> None:
        """Noise, a lost microphone, the end of a prompt or a note, a failure to hear, a second start."""
        at, turn = self.run.at, self.run.machine.turn - back
        self.run.take(happenings(at, turn)[kind])

    @rule(keep=st.integers(1, 12))
    def stop_the_program(self, keep: int) -> None:
        """The record may lose its last few entries, never the first two."""
        self.run = self.run.restart(keep=max(2, len(self.run.entries) - keep % 4))
        self.seen = len(self.run.entries)
        self.out = {move.switch for move in self.run.machine.progress.moved}

    @invariant()
    def is_sound(self) -> None:
        """The rules of DESIGN 5 hold at every step."""
        if hasattr(self, "run"):
            self._watch(self.run.entries[self.seen :])
            self.seen = len(self.run.entries)
            assert {move.switch for move in self.run.machine.progress.moved} == self.out
            assert_ended_well(self.run.machine.progress)
            assert_stays_stopped(self.run)

    def teardown(self) -> None:
        """Whatever happened, the run can be brought to its end."""
        if hasattr(self, "run"):
            finish(self.run)
            self.is_sound()
            assert_ended_well(self.run.machine.progress)

    def _in_force(self) -> list[Meaning]:
        return list(phrases_in_force(self.run.machine.progress).meanings.values())


def happenings(at: float, turn: int) -> list[Event]:
    """One of each event that is neither an answer nor time."""
    return [
        PlaybackEnded(at, turn),
        Misheard(at, turn, Reason.UNSURE, None, 0.3),
        RoomGrewLoud(at, -10.0),
        RoomGrewQuiet(at, -50.0),
        MicLost(at),
        MicBack(at),
        NoteEnded(at, "clip.wav", 2.0),
        NoteEnded(at, "", 0.0),
        Started(at),
        Started(at, is_set_back=True),
        PortFailed(at, Port.EAR, "KeyError: 7"),
        PortFailed(at, Port.SCREEN, "no answer for 5 s"),
        PortBack(at, Port.EAR),
        PortFailed(at, Port.CLIP, "no space left"),
    ]


AnyRun.TestCase.settings = settings(max_examples=80, stateful_step_count=30)
TestAnyRun = AnyRun.TestCase


@pytest.mark.parametrize("plan", [PLAN, danger.PLAN], ids=["plain", "with stops"])
def test_a_walk_of_ten_thousand_events_stays_in_the_table(plan: Plan) -> None:
    """It never raises, ends many runs both ways, and every record reads back to the state it was left in."""
    walk = Random(20)  # noqa: S311 - a walk for a test
    ends: Counter[RunState] = Counter()
    seen: Counter[tuple[RunState, bool]] = Counter()
    machine, entries, at = Machine(plan), list[Entry](), 0.0
    for step in range(10_000):
        at += walk.choice([0.0, 0.4, 3.0, 20.0])
        _, effects = machine.handle(_any_event(walk, machine, at))
        entries += [effect.entry for effect in effects if isinstance(effect, Append)]
        seen[machine.state, bool(machine.progress.stop and machine.progress.stop.movers)] += 1
        if machine.state in FINAL or step % 500 == 0:
            assert fold(plan, entries) == machine.progress
            assert state_of(fold(plan, entries)) is machine.state
            assert_ended_well(machine.progress)
            ends[machine.state] += 1
        if machine.state in FINAL:
            machine, entries = Machine(plan), []
    assert min(ends[state] for state in FINAL) > 10
    if plan is danger.PLAN:
        stopped = (
            RunState.STOPPED,
            RunState.RESTORING,
            RunState.HOLDING,
            RunState.NOTING,
            RunState.CONFIRMING,
        )
        assert all(seen[state, True] > 0 for state in stopped)
        assert seen[RunState.STOPPED, False] > 50


def _any_event(walk: Random, machine: Machine, at: float) -> Event:
    """Two in three lead on, the rest is anything, sometimes to a past turn; the battery is often weak."""
    turn = machine.turn - walk.choice([0, 0, 0, 0, 1, 2])
    if walk.random() < 0.1 or machine.state is RunState.READY:
        return walk.choice([*happenings(at, turn), Ticked(at)])
    by_the_book = meaning_by_the_book(machine.progress)
    if isinstance(by_the_book, Value) and walk.random() < 0.2:
        by_the_book = Value(by_the_book.item, Decimal("19.5"))
    meaning = by_the_book if walk.random() < 0.7 else walk.choice(meanings_of(machine.progress.plan))
    onset_at = at - walk.choice([0.3, 0.8])
    return Answered(at, turn, meaning, "x", 0.7, onset_at, Channel.VOICE)


def test_the_walk_knows_every_event() -> None:
    """A new event has to be added to it."""
    assert {type(event) for event in happenings(0.0, 0)} | {Answered, Ticked} == set(get_args(Event))
