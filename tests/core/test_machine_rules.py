from collections import Counter
from decimal import Decimal
from random import Random
from typing import get_args

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from runner.checklist.model import (
    Action,
    Body,
    Choice,
    Condition,
    Dead,
    Item,
    Outcome,
    Reading,
    SpinUp,
    State,
)
from runner.core.agenda import applies, is_critical, state_of
from runner.core.effect import Append
from runner.core.entry import Entry, RunCompleted
from runner.core.event import (
    Answered,
    Channel,
    Event,
    MicBack,
    MicLost,
    Misheard,
    NoteEnded,
    PlaybackEnded,
    Reason,
    RoomGrewLoud,
    RoomGrewQuiet,
    Started,
    Ticked,
)
from runner.core.fold import fold
from runner.core.machine import Machine
from runner.core.phrases import phrases_in_force
from runner.core.plan import Plan
from runner.core.progress import Progress
from runner.core.state import FINAL
from runner.core.state import State as RunState
from runner.language.meaning import Command, Meaning, Picked, Pulled, Stuck, Value, Word
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
            found += [Value(each.name, Decimal(number)) for number in ("24.6", "22.5", "31", "99")]
        else:
            found += [Picked(each.name, answer.label) for answer in each.responses]
    return found


def assert_ended_well(progress: Progress) -> None:
    """No completion with an open clock, a critical item unanswered, or the selector not asked back."""
    items = [each for each in progress.plan.check.items if applies(progress, each)]
    if isinstance(progress.ended, RunCompleted):
        assert not any(clock.is_open for clock in progress.clocks.values())
        assert all(progress.is_settled(each.name) for each in items)
        assert not any(each.name in progress.unable for each in items if is_critical(each))
        assert not progress.put_off
    if progress.ended is not None and any(held.position == "reserve" for held in progress.positions):
        restorations = [progress.answers[each.name] for each in items if each.restores]
        is_back = progress.positions[-1].position == "normal"
        assert restorations
        assert is_back or any(answer.outcome is Outcome.SQUAWK for answer in restorations)


KINDS = ("action", "reading", "state", "dead", "gyro", "choice")


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Small checks: a choice, gyros on any trigger, readings, lamps, the restoration, the call."""
    names = (f"item {number}" for number in range(100))
    choice = item(next(names), Choice((response("new"), response("old"))))
    power = item(
        next(names),
        Action((response("on"), response("off", Outcome.SQUAWK)), "reserve"),
        critical=draw(st.booleans()),
    )
    items = [choice, power]
    for kind in draw(st.lists(st.sampled_from(KINDS), max_size=5)):
        items.append(_item(draw, next(names), kind, items))
    return plan_of(*items, RESTORE)


def _item(draw: st.DrawFn, name: str, kind: str, earlier: list[Item]) -> Item:
    when = draw(st.none() | st.just(Condition("item 0", ("old",))))
    critical = draw(st.booleans())
    if kind == "gyro":
        triggers = [each.name for each in earlier if isinstance(each.body, (Action, State))]
        made = gyro(name, 20, 50, starts_on=draw(st.sampled_from(triggers)))
        return Item(made.name, made.challenge, made.body, made.why, made.place, critical, when=when)
    answers = (response("good"), response("poor", Outcome.CAUTION), response("bad", Outcome.SQUAWK))
    bodies: dict[str, Body] = {
        "action": Action(answers),
        "reading": VOLTS,
        "state": State(answers),
        "dead": Dead(answers, ("load",)),
        "choice": Choice(answers),
    }
    return item(name, bodies[kind], critical=critical, looks=draw(st.booleans()), when=when)


class AnyRun(RuleBasedStateMachine):
    """Random events, valid and stale, over random checks; the run is replayed at every step."""

    run: Run

    @initialize(plan=plans())
    def begin(self, plan: Plan) -> None:
        """A run that has begun; `Run` compares the fold of its entries with its state at every step."""
        self.run = Run(plan).start().say(Word.CONTINUE)

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

    @rule(kind=st.integers(0, 8), back=st.integers(0, 2))
    def let_something_happen(self, kind: int, back: int) -> None:
        """Noise, a lost microphone, the end of a prompt or a note, a failure to hear, a second start."""
        at, turn = self.run.at, self.run.machine.turn - back
        self.run.take(happenings(at, turn)[kind])

    @rule(keep=st.integers(1, 12))
    def stop_the_program(self, keep: int) -> None:
        """The record may lose its last few entries, never the first two."""
        self.run = self.run.restart(keep=max(2, len(self.run.entries) - keep % 4))

    @invariant()
    def is_sound(self) -> None:
        """The rules of DESIGN 5 hold at every step."""
        assert_ended_well(self.run.machine.progress)

    def teardown(self) -> None:
        """Whatever happened, the run can be brought to its end."""
        if hasattr(self, "run"):
            finish(self.run)
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
    ]


AnyRun.TestCase.settings = settings(max_examples=80, stateful_step_count=30)
TestAnyRun = AnyRun.TestCase


def test_a_walk_of_ten_thousand_events_stays_in_the_table() -> None:
    """It never raises, ends many runs both ways, and every record reads back to the state it was left in."""
    walk = Random(20)  # noqa: S311 - a walk for a test
    ends: Counter[RunState] = Counter()
    machine, entries, at = Machine(PLAN), list[Entry](), 0.0
    for step in range(10_000):
        at += walk.choice([0.0, 0.4, 3.0, 20.0])
        _, effects = machine.handle(_any_event(walk, machine, at))
        entries += [effect.entry for effect in effects if isinstance(effect, Append)]
        if machine.state in FINAL or step % 500 == 0:
            assert fold(PLAN, entries) == machine.progress
            assert state_of(fold(PLAN, entries)) is machine.state
            assert_ended_well(machine.progress)
            ends[machine.state] += 1
        if machine.state in FINAL:
            machine, entries = Machine(PLAN), []
    assert min(ends[state] for state in FINAL) > 10


def _any_event(walk: Random, machine: Machine, at: float) -> Event:
    """Two in three lead on, the rest is anything, sometimes to a turn that is over."""
    turn = machine.turn - walk.choice([0, 0, 0, 0, 1, 2])
    if walk.random() < 0.1 or machine.state is RunState.READY:
        return walk.choice([*happenings(at, turn), Ticked(at)])
    by_the_book = meaning_by_the_book(machine.progress)
    meaning = by_the_book if walk.random() < 0.7 else walk.choice(meanings_of(PLAN))
    onset_at = at - walk.choice([0.3, 0.8])
    return Answered(at, turn, meaning, "x", 0.7, onset_at, Channel.VOICE)


def test_the_walk_knows_every_event() -> None:
    """A new event has to be added to it."""
    assert {type(event) for event in happenings(0.0, 0)} | {Answered, Ticked} == set(get_args(Event))
