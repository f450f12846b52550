"""A small invented check for the tests of the core, and a run of it that replays itself at every step."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path

from runner.checklist.format.check import Body, Check, Condition, Item, Response, Section
from runner.checklist.kind.action import Action
from runner.checklist.kind.call import Call
from runner.checklist.kind.choice import Choice
from runner.checklist.kind.dead import Dead
from runner.checklist.kind.named_state import NamedState
from runner.checklist.kind.numbered import Band
from runner.checklist.kind.reading import Reading
from runner.checklist.kind.spin_up import SpinUp
from runner.core.ask.agenda import state_of
from runner.core.ask.outlook import outlook_of
from runner.core.effect import Append, Effect, Finish, Listen, Say
from runner.core.event import (
    Answered,
    Channel,
    Event,
    Misheard,
    NoteEnded,
    PlaybackEnded,
    Reason,
    Started,
    Ticked,
)
from runner.core.grid.machine import Machine
from runner.core.plan import Plan
from runner.core.record.answer_history import history_of
from runner.core.record.entry import AnswerRecorded, ClockEnded, Entry
from runner.core.record.fold import fold
from runner.core.record.progress import Progress
from runner.core.state import FINAL
from runner.core.state import State as RunState
from runner.errors import Place
from runner.language.catalogue import Outcome, Unit, Word
from runner.language.meaning import Command, Meaning, Picked, Pulled, Stuck, Value

PLACE = Place(Path("sample.yaml"), 1, 1)


def band(low: str, high: str) -> Band:
    """A band from written numbers."""
    return Band(Decimal(low), Decimal(high))


def response(label: str, outcome: Outcome = Outcome.PASS, key: str = "") -> Response:
    """A response that is said as its label."""
    return Response(label, (label,), outcome, key)


def item(
    name: str, body: Body, *, critical: bool = False, looks: bool = False, when: Condition | None = None
) -> Item:
    """An item whose challenge is its name in capitals."""
    return Item(name, name.upper(), body, f"reason of {name}", PLACE, critical, looks=looks, when=when)


def gyro(name: str, advise: float, limit: float, starts_on: str = "reserve") -> Item:
    """A spin-up item that is powered by the answer to `starts_on`."""
    pulled, stuck = response(f"{name} pulled", key="p"), response(f"{name} stuck", Outcome.SQUAWK, "k")
    return item(f"{name} flag", SpinUp(f"{name} gyro", starts_on, pulled, stuck, advise, limit))


VOLTS = Reading(Unit.VOLTS, Decimal("0.1"), band("24", "28"), band("22", "29"), band("10", "34"))
RESTORE = Item(
    "normal",
    "NORMAL",
    Action((response("normal"), response("jammed", Outcome.SQUAWK)), selects="normal"),
    "reason of normal",
    PLACE,
    restores=True,
)
CALL = item("call", Call((response("check complete"),)))

CHECK = Check(
    name="sample",
    title="Sample reserve check",
    airplane="sample",
    cautions=("Ground use only", "The check drains the battery"),
    sections=(
        Section(
            "Power",
            (
                item("fit", Choice((response("new"), response("old", key="o")))),
                item(
                    "reserve",
                    Action((response("reserve"), response("dark", Outcome.SQUAWK)), "reserve"),
                    critical=True,
                ),
                gyro("left", 30, 60),
                item("volts", VOLTS, critical=True, looks=True),
                gyro("right", 45, 90),
            ),
        ),
        Section(
            "Loads",
            (
                item(
                    "lamps",
                    NamedState(
                        (
                            response("both"),
                            response("left out", Outcome.SQUAWK),
                            response("dim", Outcome.CAUTION),
                        )
                    ),
                    looks=True,
                ),
                item("horn", Action((response("heard"),)), when=Condition("fit", ("old",))),
                item(
                    "radio",
                    Dead((response("dead"), response("alive", Outcome.SQUAWK)), ("radio",)),
                    looks=True,
                ),
            ),
        ),
        Section("Back", (RESTORE, CALL)),
    ),
)
"""Every rule of the run can be shown with these ten items."""

PLAN = Plan(CHECK, "normal", {"normal": 4.0, "reserve": 36.0}, usable_ampere_hours=20.0, warn_share=0.1)


def plan_of(*items: Item) -> Plan:
    """A plan for a check of one section with these items and the completion call."""
    check = Check("short", "Short check", "sample", ("Ground use only",), (Section("All", (*items, CALL)),))
    return Plan(check, "normal", {"normal": 4.0, "reserve": 36.0}, usable_ampere_hours=20.0, warn_share=0.1)


def assert_one_history(progress: Progress, entries: Iterable[Entry]) -> None:
    """What the logbook and a report make of a record, without its check, is what the core goes by."""
    assert progress.history == history_of(entries)
    standing = progress.history.standing
    for item in progress.plan.check.items:
        if progress.is_done(item.name):
            assert standing[item.name].outcome is progress.outcome(item.name)


@dataclass
class Run:
    """A machine with its record; every step is checked against the replay of that record."""

    plan: Plan = PLAN
    entries: list[Entry] = field(default_factory=list)
    at: float = 1000.0
    effects: tuple[Effect, ...] = ()

    def __post_init__(self) -> None:
        self.machine = Machine(self.plan, self.entries)

    def take(self, event: Event) -> "Run":
        """Handle the event, keep its entries, and replay the record."""
        state, self.effects = self.machine.handle(event)
        kinds = [isinstance(effect, Append) for effect in self.effects]
        assert kinds == sorted(kinds, reverse=True), "what goes on record comes first"
        self.entries += self.new
        assert state == self.machine.state
        assert fold(self.plan, self.entries) == self.machine.progress
        assert_one_history(self.machine.progress, self.entries)
        again = Machine(self.plan, self.entries)
        assert (again.state, again.progress) == (state, self.machine.progress)
        return self

    @property
    def new(self) -> list[Entry]:
        """Entries of the last step."""
        return [effect.entry for effect in self.effects if isinstance(effect, Append)]

    @property
    def said(self) -> str:
        """What the last step began to say, in all its breaths; empty when it was silent."""
        said = [effect.text for effect in self.effects if isinstance(effect, Say)]
        return " ".join([*said, *self.machine.rest]) if said else ""

    @property
    def heard_phrases(self) -> tuple[str, ...]:
        """The phrases that the last step put in force."""
        return next(effect.in_force.phrases for effect in self.effects if isinstance(effect, Listen))

    @property
    def is_finished(self) -> bool:
        """The last step ended the run."""
        return any(isinstance(effect, Finish) for effect in self.effects)

    @property
    def state(self) -> RunState:
        """Where the run stands."""
        return state_of(self.machine.progress)

    @property
    def channel(self) -> str:
        """How answers are taken at present."""
        return self.machine.progress.channel.value

    @property
    def answer(self) -> AnswerRecorded:
        """The answer that the last step recorded."""
        return next(entry for entry in self.new if isinstance(entry, AnswerRecorded))

    @property
    def clock_end(self) -> ClockEnded:
        """The clock that the last step ended."""
        return next(entry for entry in self.new if isinstance(entry, ClockEnded))

    def mean(
        self, meaning: Meaning, *, after: float = 2.0, turn: int | None = None, text: str = "said"
    ) -> "Run":
        """Something was said: it began `after` seconds after now and was understood half a second later."""
        onset_at = self.at + after
        self.at = onset_at + 0.5
        number = self.machine.turn if turn is None else turn
        return self.take(Answered(self.at, number, meaning, text, 0.9, onset_at, Channel.VOICE))

    def say(self, word: Word, **when: float) -> "Run":
        """A standard word was said."""
        return self.mean(Command(word), after=when.get("after", 2.0), text=word.value)

    def pick(self, name: str, label: str, **when: float) -> "Run":
        """A named answer was said."""
        return self.mean(Picked(name, label), after=when.get("after", 2.0), text=label)

    def read(self, number: str, name: str = "volts", **when: float) -> "Run":
        """A value was said."""
        return self.mean(Value(name, Decimal(number)), after=when.get("after", 2.0), text=number)

    def pulled(self, name: str, **when: float) -> "Run":
        """A flag was called pulled."""
        return self.mean(Pulled(name), after=when.get("after", 2.0))

    def stuck(self, name: str) -> "Run":
        """A flag was called stuck."""
        return self.mean(Stuck(name))

    def play(self) -> "Run":
        """All breaths of the prompt were heard to their end, now."""
        while self.machine.rest:
            self.breathe()
        return self.breathe()

    def breathe(self) -> "Run":
        """This breath of the prompt was heard to its end, now."""
        return self.take(PlaybackEnded(self.at, self.machine.turn))

    def tick(self, seconds: float) -> "Run":
        """That much time went by."""
        self.at += seconds
        return self.take(Ticked(self.at))

    def mishear(self) -> "Run":
        """Something was said that is not in force."""
        return self.take(Misheard(self.at, self.machine.turn, Reason.UNKNOWN, None, 0.2))

    def start(self) -> "Run":
        """The run was started, or started again."""
        return self.take(Started(self.at))

    def restart(self, keep: int | None = None) -> "Run":
        """The program stopped after so many entries (None: all) and the run is reopened a minute later."""
        entries = self.entries if keep is None else self.entries[:keep]
        return Run(self.plan, list(entries), self.at + 60.0).start()


def begun() -> Run:
    """A run whose first item is asked."""
    return Run().start().say(Word.CONTINUE)


def powered(fit: str = "new") -> Run:
    """A run in which both clocks run and the volts are asked; power came on at the answer's onset."""
    return begun().pick("fit", fit).pick("reserve", "reserve")


def before_restoration() -> Run:
    """A run that has only the restoration and the call to come."""
    run = powered().read("24.6").pick("lamps", "both").pick("radio", "dead")
    return run.pulled("left flag").pulled("right flag")


def completed() -> Run:
    """A whole run without a discrepancy."""
    return before_restoration().pick("normal", "normal").pick("call", "check complete")


def finish(run: Run) -> Run:
    """Answer by the book whatever is asked until the run ends; it fails when the run does not end."""
    for _ in range(200):
        if run.state in FINAL:
            return run
        answer_by_the_book(run)
    raise AssertionError(f"the run does not end; it is {run.state}")


def answer_by_the_book(run: Run) -> None:
    """Give the answer that leads on, whatever is asked."""
    if run.state is RunState.READY:
        run.start()
    elif run.state is RunState.NOTING:
        run.take(NoteEnded(run.at, "clip.wav", 1.0))
    else:
        run.mean(meaning_by_the_book(run.machine.progress))


def meaning_by_the_book(progress: Progress) -> Meaning:
    """The answer that leads on from here."""
    outlook = outlook_of(progress)
    if outlook.state is RunState.CONFIRMING:
        return Command(Word.AFFIRM)
    if outlook.state is RunState.WAITING:
        return outlook.clocks[0].answers[0].meaning
    if outlook.item is not None and outlook.gauge is not None:
        return Value(outlook.item.name, outlook.gauge.pass_band.low)
    return outlook.answers[0].meaning if outlook.answers else Command(Word.CONTINUE)


def kinds(entries: Sequence[Entry]) -> list[str]:
    """The entries' names."""
    return [type(entry).__name__ for entry in entries]
