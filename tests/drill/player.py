"""Students of the tests: they run the very check, on the core's machine, against a played airplane.

A student is asked what to answer and what to call; the perfect one looks at everything and knows the airplane
well, the careless one says that all is well.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal

from runner.checklist.format.check import Check, Item
from runner.checklist.kind.action import Action
from runner.checklist.kind.dead import Dead
from runner.checklist.kind.reading import Reading
from runner.core.ask.agenda import item_in_force
from runner.core.ask.outlook import outlook_of
from runner.core.effect import Append
from runner.core.event import Answered, Channel, PlaybackEnded, Started, Ticked
from runner.core.grid.machine import Machine
from runner.core.plan import plan_on_ground
from runner.core.record.entry import Entry
from runner.core.state import FINAL, State
from runner.drill.drill_event import DrillEvent, FaultCalled, HandMoved
from runner.drill.judged.film import Film, shoot
from runner.drill.judged.item_truth import truth_of
from runner.drill.judged.judgement import CLEARED_SECONDS, Judgement, judge
from runner.drill.played.drill_panel import DrillPanel
from runner.drill.played.played_airplane import PlayedAirplane, switches_of
from runner.drill.story.drill_story import DrillStory
from runner.language.catalogue import Outcome, Word
from runner.language.meaning import Command, Meaning, Picked, Pulled, Stuck, Value

START = 1_790_000_000.0
THINK = 2.0
LOOK_AROUND = 14.0
"""Before the selector goes back: longer than what comes and goes stays away."""
LONGEST = 900.0


@dataclass
class Performance:
    """What a student did, and what came of it."""

    machine: Machine
    events: list[DrillEvent] = field(default_factory=list)
    entries: list[Entry] = field(default_factory=list)
    ended_at: float = 0.0
    film: Film | None = None
    judgement: Judgement | None = None


@dataclass
class Student:
    """Answers by `answer`, and calls what differs from the healthy airplane where `calls` says so."""

    story: DrillStory
    check: Check
    answer: Callable[["Student", Item], str]
    calls: bool = True
    knows_volts: bool = False
    """How far the needle should fall."""
    hands: Callable[[str], bool] = lambda _switch: True
    now: float = START

    def __post_init__(self) -> None:
        self.played = PlayedAirplane(self.story.setting)
        self.well = PlayedAirplane(self.story.setting)
        for fault in self.story.setting.hidden:
            self.well.change(fault, is_in=False)
        self.machine = Machine(plan_on_ground(self.check, self.story.setting.airplane.selector.parked))
        self.done = Performance(self.machine)
        self.odd: frozenset[str] = frozenset()
        """What looked otherwise a second ago."""
        self.switches = dict(switches_of(self.story.setting))

    def perform(self) -> Performance:
        """Run the check to its end, and have it judged."""
        self.give(Started(self.now))
        selector = self.story.setting.airplane.selector
        is_left = self.played.selector != selector.parked and not self.story.setting.is_flying
        if self.calls and is_left:
            self.move(selector.name, selector.parked)
        while self.machine.state not in FINAL and self.now < START + LONGEST:
            self.step()
        self.done.ended_at = self.now
        self.done.film = shoot(self.story.setting, START, self.done.events, self.now)
        self.done.judgement = judge(
            self.done.film, self.machine.progress, self.done.events, self.story.around
        )
        return self.done

    def step(self) -> None:
        """One question, or one second."""
        state = self.machine.state
        if state is State.BRIEFING:
            self.say(Command(Word.CONTINUE))
        elif state is State.CONFIRMING:
            self.say(Command(Word.AFFIRM))
        elif state is State.STOPPED:
            self.wait(CLEARED_SECONDS + 1)
            self.reply()
        elif state in (State.ASKING, State.RESTORING):
            self.reply()
        else:
            self.wait(1)

    def reply(self) -> None:
        """Hands first, then a look, then the answer."""
        item = item_in_force(self.machine.progress)
        assert item is not None
        if item.restores:
            self.wait(LOOK_AROUND)
        self.use_hands(item)
        self.wait(THINK)
        if item_in_force(self.machine.progress) is not item:
            return
        answer = self.answer(self, item)
        match item.body:
            case Reading():
                self.say(Value(item.name, Decimal(answer)))
            case _:
                self.say(Picked(item.name, answer))

    def use_hands(self, item: Item) -> None:
        """Do what the item asks for."""
        selector = self.story.setting.airplane.selector.name
        match item.body:
            case Action(selects=str(position)):
                self.move(selector, position)
            case Dead(switches=switches):
                for switch in switches:
                    self.switch(switch, "on")
            case _:
                pass
        for switch in item.moves:
            self.switch(switch, "on")
        for switch in item.returns:
            self.switch(switch, "off")

    def switch(self, name: str, position: str) -> None:
        """A load's own switch."""
        if self.switches.get(name) == ("off", "on") and self.played.stands(name) != position:
            self.move(name, position)

    def move(self, switch: str, position: str) -> None:
        """A hand."""
        if self.hands(switch):
            self.done.events.append(HandMoved(self.now, switch, position))
            for each in (self.played, self.well):
                each.move(switch, position)

    def wait(self, seconds: float) -> None:
        """Let time go by, with an eye on flags and on what looks odd."""
        for _ in range(round(seconds)):
            self.now += 1
            for each in (self.played, self.well):
                each.play(1)
            self.give(Ticked(self.now))
            self.watch_flags()
            if self.calls:
                self.call()

    def watch_flags(self) -> None:
        """Call a flag when it pulls, or that it does not once its limit has passed."""
        flags = self.played.panel().flags
        for clock in outlook_of(self.machine.progress).clocks:
            if flags[clock.body.gyro]:
                self.say(Pulled(clock.item.name))
            elif clock.clock.is_limit_passed:
                self.say(Stuck(clock.item.name))

    def call(self) -> None:
        """Say what looks otherwise than in the airplane as it should be."""
        left_out = {self.story.setting.airplane.voltmeter.name} if not self.knows_volts else set()
        odd = self.played.panel().differences(self.well.panel()) - left_out
        self.done.events += [FaultCalled(self.now, name) for name in sorted(odd - self.odd)]
        self.odd = odd

    def say(self, meaning: Meaning) -> None:
        """One answer, after every breath of the question was heard."""
        text = getattr(meaning, "label", "") or str(getattr(meaning, "number", "said"))
        self.give(Answered(self.now, self.machine.turn, meaning, text, 1.0, self.now, Channel.KEYS))

    def give(self, event: Started | Answered | Ticked) -> None:
        """An event to the machine, and the end of whatever it says then."""
        turn = self.machine.turn
        _, effects = self.machine.handle(event)
        self.note(effects)
        while self.machine.turn != turn:
            turn = self.machine.turn
            _, effects = self.machine.handle(PlaybackEnded(self.now, turn))
            self.note(effects)

    def note(self, effects: tuple[object, ...]) -> None:
        """Keep the entries."""
        self.done.entries += [effect.entry for effect in effects if isinstance(effect, Append)]


def as_seen(student: Student, item: Item) -> str:
    """What the panel says now."""
    panel: DrillPanel = student.played.panel()
    truth = truth_of(item, panel, student.story.setting.airplane, around_now(student))
    return str(truth.number) if truth.number is not None else truth.labels[0]


def around_now(student: Student) -> dict[str, str]:
    """A danger that was named is taken away."""
    stopped = {stop.item for stop in student.machine.progress.stops}
    return {item: label for item, label in student.story.around.items() if item not in stopped}


def all_well(student: Student, item: Item) -> str:
    """What a healthy airplane would be answered, whatever there is to see."""
    panel = student.well.panel()
    truth = truth_of(item, panel, student.story.setting.airplane, around_now(student))
    if truth.number is not None:
        return str(truth.number)
    passing = [each.label for each in item.responses if each.outcome is Outcome.PASS]
    return truth.labels[0] if truth.labels[0] in passing else passing[0]


def perfect(story: DrillStory, check: Check, *, knows_volts: bool = False) -> Performance:
    """Looks at everything."""
    return Student(story, check, as_seen, knows_volts=knows_volts).perform()


def careless(story: DrillStory, check: Check) -> Performance:
    """Says that all is well, and sees flags pull when they should."""
    student = Student(story, check, all_well, calls=False)
    student.watch_flags = lambda: blind_flags(student)  # type: ignore[method-assign] # this one sees what should be
    return student.perform()


def blind_flags(student: Student) -> None:
    """Call flags by the healthy airplane."""
    flags = student.well.panel().flags
    for clock in outlook_of(student.machine.progress).clocks:
        if flags[clock.body.gyro]:
            student.say(Pulled(clock.item.name))
