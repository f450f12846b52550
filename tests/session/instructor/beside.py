"""A drill on the Merlow with an instructor's link, by hand and on this thread."""

from dataclasses import replace
from typing import Any

from runner.core.event import Answered, Channel, PlaybackEnded, Started, Ticked
from runner.core.grid.machine import Machine
from runner.core.plan import plan_on_ground
from runner.drill.drill_desk import DrillDesk
from runner.drill.drill_event import DrillEvent
from runner.drill.played.hidden import Hidden, HiddenKind
from runner.drill.story.drill_story import invent_story
from runner.language.meaning import Meaning
from runner.screen.build import build_view
from runner.screen.drill_view import drill_view
from runner.screen.view import SoundView, View
from runner.session.drilled.drill_session import DrillSession
from runner.session.instructor.instructor_link import InstructorLink
from runner.session.instructor.instructor_order import Order, ordered_event, trippable
from runner.session.instructor.instructor_state import InstructorTimeline, instructor_state
from runner.session.live.inbox import Errand
from tests.drill.sample import ON, drilled

START = 1_790_000_000.0
BULB = Hidden(HiddenKind.BULB_OUT, "flood lamps", "left")
GYRO = {"kind": "tumbles", "name": "left attitude gyro", "part": ""}


class Beside:
    """The drill, its timeline and its link; orders are obeyed at once, a second later each."""

    def __init__(self) -> None:
        airplane, check = drilled(0)
        story = invent_story(check, airplane, ON, level=1, seed=3, faults=(BULB,))
        self.now = START
        self.events: list[DrillEvent] = []
        self.timeline = InstructorTimeline(story, START)
        self.desk = DrillDesk(story, START, self._happen)
        self.machine = Machine(plan_on_ground(check, airplane.selector.parked))
        self.session = DrillSession(self.machine, lambda _entry: None, self, self.desk)
        self.link = InstructorLink()
        self.link.begin(trippable(airplane), Errand.run, self.obey)
        self.session.take(Started(START))
        self._hear_out()

    def _happen(self, event: DrillEvent) -> None:
        self.events.append(event)
        self.timeline.happen(event)

    def obey(self, order: Order) -> None:
        """An order of the instructor."""
        self.pass_seconds(1)
        self.desk.happen(ordered_event(order, self.now, self.desk))
        self.show()

    def pass_seconds(self, seconds: float) -> None:
        """Time goes by."""
        self.now += seconds
        self.session.take(Ticked(self.now))

    def answer(self, meaning: Meaning, text: str) -> None:
        """Three seconds later, by key."""
        self.now += 3
        answered = Answered(self.now, self.machine.turn, meaning, text, 1.0, self.now, Channel.KEYS)
        self.timeline.hear(self.now, answered)
        self.session.take(answered)
        self._hear_out()

    def _hear_out(self) -> None:
        turn = None
        while turn != self.machine.turn:
            turn = self.machine.turn
            self.session.take(PlaybackEnded(self.now, turn))

    @property
    def state(self) -> dict[str, Any]:
        """What the page is told now."""
        return instructor_state(self.desk, self.view, self.timeline)

    @property
    def view(self) -> View:
        """What the student sees."""
        names = {"airplane": "Merlow ML-2", "registration": "QQ-ML2"}
        view = build_view(self.machine, self.now, **names, sound=SoundView())
        return replace(view, drill=drill_view(self.desk, self.now, {}), is_drill=True)

    def show(self) -> None:
        """As the stage of a session."""
        self.link.publish(self.state)

    def say(self, _turn: int, text: str, _read_back: tuple[str, ...] = ()) -> None:
        """As the stage of a session."""
        self.timeline.hear(self.now, text)

    def listen(self, *_force: object) -> None:
        """As the stage of a session."""

    def record_note(self, turn: int) -> None:
        """As the stage of a session."""
