"""A drill's session: what is meant for the desk goes there, all else to the very machine of a run."""

from dataclasses import dataclass, field

import pytest

from runner.core.event import Answered, Channel, Misheard, PlaybackEnded, Reason, Started, Ticked
from runner.core.grid.machine import Machine
from runner.core.plan import plan_on_ground
from runner.core.record.entry import Entry
from runner.core.state import State
from runner.drill.drill_act import desk_meaning
from runner.drill.drill_desk import DrillDesk
from runner.drill.drill_event import DrillInterrupted, FaultCalled, HandMoved, LookTaken, WordsRefused
from runner.drill.story.drill_story import invent_story
from runner.language.catalogue import Word
from runner.language.force import InForce
from runner.language.meaning import Command, Meaning, Picked
from runner.session.drilled.drill_session import DrillSession
from tests.drill.sample import ON, drilled

START = 1_790_000_000.0


@dataclass
class Room:
    """A stage that writes down what it is asked for."""

    said: list[tuple[int, str]] = field(default_factory=list)
    phrases: InForce = field(default_factory=lambda: InForce({}))

    def say(self, turn: int, text: str, _read_back: tuple[str, ...] = ()) -> None:
        """Speak."""
        self.said.append((turn, text))

    def listen(self, _turn: int, in_force: InForce) -> None:
        """Listen."""
        self.phrases = in_force

    def record_note(self, turn: int) -> None:
        """A note."""

    def show(self) -> None:
        """Draw."""


@dataclass
class Drill:
    """A session on the Merlow, with its room and its record."""

    level: int = 1
    room: Room = field(default_factory=Room)
    entries: list[Entry] = field(default_factory=list)

    def __post_init__(self) -> None:
        airplane, check = drilled(0)
        story = invent_story(check, airplane, ON, level=self.level, seed=3)
        self.desk = DrillDesk(story, START)
        machine = Machine(plan_on_ground(check, airplane.selector.parked))
        self.session = DrillSession(machine, self.entries.append, self.room, self.desk)
        self.now = START
        self.session.take(Started(START))
        self.hear_out()

    def hear_out(self) -> None:
        """Every breath to its end."""
        turn = None
        while turn != self.session.machine.turn:
            turn = self.session.machine.turn
            self.session.take(PlaybackEnded(self.now, turn))

    def say(self, meaning: Meaning) -> None:
        """An answer, three seconds later."""
        self.now += 3
        turn = self.session.machine.turn
        self.session.take(Answered(self.now, turn, meaning, "said", 1.0, self.now, Channel.KEYS))
        self.hear_out()


def test_hands_go_to_the_desk_and_answers_to_the_machine() -> None:
    """A switch moves the airplane and leaves the machine's question where it is."""
    drill = Drill()
    drill.say(Command(Word.CONTINUE))
    assert drill.session.machine.state is State.ASKING
    before = len(drill.entries)
    drill.say(desk_meaning("flood dimmer on"))
    assert drill.desk.played.stands("flood dimmer") == "on"
    assert drill.desk.events == [HandMoved(drill.now, "flood dimmer", "on")]
    assert len(drill.entries) == before
    drill.say(Picked("people", "nobody near"))
    assert len(drill.entries) == before + 1


def test_a_look_is_told_and_a_question_that_it_talked_over_comes_again() -> None:
    """The question that was cut by the look is said once more after it."""
    drill = Drill()
    drill.say(Command(Word.CONTINUE))
    drill.now += 1
    machine = drill.session.machine
    drill.session.take(
        Answered(drill.now, machine.turn, Picked("people", "nobody near"), "n", 1.0, drill.now, Channel.KEYS)
    )
    drill.session.take(
        Answered(drill.now, machine.turn, desk_meaning("left attitude"), "l", 1.0, drill.now, Channel.KEYS)
    )
    assert drill.room.said[-1][1] == "Left attitude: flag in view, horizon lies still."
    drill.session.take(PlaybackEnded(drill.now + 2, drill.room.said[-1][0]))
    assert drill.room.said[-1] == (machine.turn, machine.last_said)
    assert isinstance(drill.desk.events[-1], LookTaken)


def test_the_desks_words_are_in_force_and_the_checks_own_win() -> None:
    """Both are listened for."""
    drill = Drill()
    drill.say(Command(Word.CONTINUE))
    meanings = drill.room.phrases.meanings
    assert meanings["nobody near"] == Picked("people", "nobody near")
    assert meanings["left attitude is wrong"] == desk_meaning("left attitude is wrong")
    drill.say(desk_meaning("left attitude is wrong"))
    assert isinstance(drill.desk.events[-1], FaultCalled)


def test_people_come_only_when_nothing_is_being_said() -> None:
    """Whoever interrupts waits for the end of the question; the answer is a phrase in force."""
    drill = Drill(level=3)
    drill.say(Command(Word.CONTINUE))
    people = drill.desk.story.interruptions
    drill.desk.story = type(drill.desk.story)(
        **{
            **{name: getattr(drill.desk.story, name) for name in drill.desk.story.__slots__},
            "interruptions": tuple(type(each)(each.who, each.says, each.wants, 0) for each in people),
        }
    )
    drill.session.take(Ticked(drill.now + 1))
    assert drill.room.said[-1][1] == people[0].says
    assert isinstance(drill.desk.events[-1], DrillInterrupted)
    assert people[0].wants[0] in drill.room.phrases.meanings
    drill.say(desk_meaning(people[0].wants[0]))
    assert drill.desk.interruption is None


@pytest.mark.parametrize("is_roger", [True, False])
def test_words_that_answer_nothing_are_noted(is_roger: bool) -> None:  # noqa: FBT001 - two cases of one thing
    """What was not in force, and roger, which never answers."""
    drill = Drill()
    drill.say(Command(Word.CONTINUE))
    if is_roger:
        drill.say(Command(Word.ROGER))
    else:
        turn = drill.session.machine.turn
        drill.session.take(Misheard(drill.now, turn, Reason.UNKNOWN, "looks fine", 0.4))
    assert isinstance(drill.desk.events[-1], WordsRefused)


def test_time_goes_by_for_the_airplane() -> None:
    """Each tick plays it on."""
    drill = Drill()
    drill.say(Command(Word.CONTINUE))
    drill.say(desk_meaning("selector to reserve"))
    drill.session.take(Ticked(drill.now + 90))
    assert drill.desk.panel.stands["feed selector"] == "reserve"
    assert drill.desk.played.seconds == pytest.approx(drill.now + 90 - START)
