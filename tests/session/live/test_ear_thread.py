"""The ear's thread lives through whatever the listener, the microphone and a note's clip do."""

import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np
import pytest

from runner.core.event import Answered, Event, MicLost, NoteEnded, Port, PortBack, PortFailed
from runner.errors import RecordError
from runner.language.catalogue import Word
from runner.language.force import InForce
from runner.language.meaning import Command
from runner.session.live.attendant import CALM_SECONDS, LIMIT_SECONDS
from runner.session.live.ear_thread import SILENT_SECONDS, SPEECH_SECONDS, EarThread
from runner.voice.listen.listener import Listener
from runner.voice.listen.result import Recorded, Result, UtteranceHeard
from runner.voice.port import RATE, Block, Samples
from runner.voice.port import Hearing as Utterance
from tests.session.simulation import EVER, Simulation

START = 1000.0
AFFIRM = InForce({"affirm": Command(Word.AFFIRM)})


class _Listener(Listener):
    """Gives out what it is told to; what it is told to do first may raise or hang."""

    def __init__(self) -> None:
        self.before: Callable[[], None] = lambda: None
        self.results: list[Result] = []
        self.is_speech = False
        self.started_over = 0

    @property
    def is_hearing(self) -> bool:
        """As told."""
        return self.is_speech

    def expect(self, turn: int, phrases: object) -> None:
        """Whatever."""

    def start_over(self) -> None:
        """Count it."""
        self.started_over += 1

    def close_note(self, at: float) -> list[Result]:
        """As `hear`."""
        assert at >= START
        return self._give()

    def hear(self, block: Block) -> list[Result]:
        """What it was told to."""
        assert block.seconds >= 0
        return self._give()

    def _give(self) -> list[Result]:
        self.before()
        results, self.results = self.results, []
        return results


@dataclass
class _Ramp:
    """A hearing with everything around it."""

    simulation: Simulation = field(default_factory=lambda: Simulation(START))
    listener: _Listener = field(default_factory=_Listener)
    told: list[Event] = field(default_factory=list)
    clip: Callable[[Samples], str] = lambda _samples: "clip.wav"

    def __post_init__(self) -> None:
        self.hearing = EarThread(self.listener, self.told.append, self.keep, self.simulation)
        self.simulation.attendants = list(self.hearing.attendants)
        self.hearing.start()

    def keep(self, samples: Samples) -> str:
        """As the clip of the moment does."""
        return self.clip(samples)

    def wait(self, seconds: float) -> None:
        """Let time go by, looking at the end of it."""
        self.simulation.get(self.simulation.now() + seconds)
        self.hearing.look(self.simulation.now())
        self.simulation.get(self.simulation.now())

    def block(self, *results: Result) -> None:
        """A block of which this came."""
        self.listener.results = list(results)
        self.hearing.deliver(Block(np.zeros(160, np.float32), self.simulation.now()))
        self.simulation.get(self.simulation.now())


@pytest.fixture
def ramp() -> Iterator[_Ramp]:
    """Closed afterwards, without a thread left."""
    before = set(threading.enumerate())
    made = _Ramp()
    yield made
    made.simulation.end()
    assert made.hearing.close()
    assert set(threading.enumerate()) == before


def heard(turn: int) -> UtteranceHeard:
    """Affirm, to this turn."""
    return UtteranceHeard(turn, Utterance("affirm", 0.9, START, START + 0.5, 0.0), START + 1.0)


def note(seconds: float) -> Recorded:
    """A spoken note."""
    return Recorded(1, np.zeros(round(seconds * RATE), np.float32), START, START + seconds)


def refuse() -> None:
    """As a library would."""
    raise KeyError(7)


def test_an_error_of_the_ear_is_told_and_the_next_answer_is_heard(ramp: _Ramp) -> None:
    """What was being said is forgotten; the thread lives on, and the ear is back after a calm."""
    ramp.hearing.listen(1, AFFIRM)
    ramp.listener.before = refuse
    ramp.block()
    assert ramp.told == [PortFailed(START, Port.EAR, "KeyError: 7")]
    assert ramp.listener.started_over == 1
    ramp.listener.before = lambda: None
    ramp.wait(CALM_SECONDS)
    ramp.block(heard(1))
    assert isinstance(ramp.told[1], PortBack)
    assert isinstance(ramp.told[2], Answered)


def test_an_ear_that_hangs_holds_no_ticks_back(ramp: _Ramp) -> None:
    """Someone was speaking when it began to hang."""
    ramp.listener.is_speech = True
    ramp.block()
    assert ramp.hearing.is_hearing(START)
    ramp.listener.before = lambda: ramp.simulation.hang(EVER)
    ramp.block()
    ramp.wait(LIMIT_SECONDS)
    assert isinstance(ramp.told[0], PortFailed)
    assert not ramp.hearing.is_hearing(ramp.simulation.now())


def test_who_speaks_for_ever_holds_no_ticks_back(ramp: _Ramp) -> None:
    """An answer is short; what goes on is noise."""
    ramp.listener.is_speech = True
    for _ in range(int(SPEECH_SECONDS)):
        ramp.block()
        assert ramp.hearing.is_hearing(ramp.simulation.now())
        ramp.wait(1.0)
    ramp.block()
    assert not ramp.hearing.is_hearing(ramp.simulation.now())
    ramp.listener.is_speech = False
    ramp.block()
    ramp.listener.is_speech = True
    ramp.block()
    assert ramp.hearing.is_hearing(ramp.simulation.now())


def test_a_microphone_that_falls_silent_without_a_word_is_told(ramp: _Ramp) -> None:
    """Once, and when it brings blocks again."""
    ramp.block()
    ramp.wait(SILENT_SECONDS - 0.1)
    assert ramp.told == []
    ramp.wait(0.1)
    ramp.wait(10.0)
    failed = PortFailed(START + SILENT_SECONDS, Port.MICROPHONE, "no sound for 4 s")
    assert ramp.told == [failed]
    ramp.block()
    assert ramp.told[1:] == [PortBack(ramp.simulation.now(), Port.MICROPHONE)]


def test_a_microphone_that_says_so_itself_is_told_once(ramp: _Ramp) -> None:
    """Its device is gone; its silence is no second failure."""
    ramp.block()
    ramp.hearing.microphone_changed(is_lost=True, at=START + 1.0)
    ramp.wait(SILENT_SECONDS * 3)
    assert ramp.told == [MicLost(START + 1.0)]


def test_a_note_is_kept_and_its_end_told(ramp: _Ramp) -> None:
    """With the clip's name."""
    ramp.block(note(2.0))
    ramp.wait(0.0)
    assert ramp.told == [NoteEnded(START + 2.0, "clip.wav", 2.0)]


def test_a_note_that_cannot_be_written_ends_and_the_ear_lives(ramp: _Ramp) -> None:
    """Each time; the failure is told once."""

    def full(_samples: Samples) -> str:
        raise RecordError("no space left")

    ramp.clip = full
    for _ in range(2):
        ramp.block(note(2.0))
        ramp.wait(0.0)
    ended = NoteEnded(START, "", 0.0)
    assert ramp.told == [PortFailed(START, Port.CLIP, "RecordError: no space left"), ended, ended]


def test_a_note_whose_clip_hangs_ends_and_its_late_clip_ends_no_other(ramp: _Ramp) -> None:
    """A late end would cut the next note short."""

    def hang(_samples: Samples) -> str:
        ramp.simulation.hang(LIMIT_SECONDS + 1.0)
        return "late.wav"

    ramp.clip = hang
    ramp.block(note(2.0))
    ramp.wait(LIMIT_SECONDS)
    ends = [event for event in ramp.told if isinstance(event, NoteEnded)]
    assert [end.clip for end in ends] == [""]
    ramp.wait(2.0)
    assert [event.clip for event in ramp.told if isinstance(event, NoteEnded)] == [""]


def test_a_note_after_one_whose_clip_still_hangs_ends_at_once(ramp: _Ramp) -> None:
    """There is nobody to write it."""

    def hang(_samples: Samples) -> str:
        ramp.simulation.hang(EVER)
        return "never.wav"

    ramp.clip = hang
    ramp.block(note(2.0))
    ramp.wait(LIMIT_SECONDS)
    ramp.block(note(1.0))
    assert ramp.told[-1] == NoteEnded(START + LIMIT_SECONDS, "", 0.0)


def test_closing_a_note_that_is_none_ends_it_all_the_same(ramp: _Ramp) -> None:
    """Whoever waits for its end goes on."""
    ramp.hearing.close_note()
    ramp.wait(0.0)
    assert ramp.told == [NoteEnded(START, "", 0.0)]


def test_no_note_is_begun_by_an_ear_that_is_lost(ramp: _Ramp) -> None:
    """It ends at once."""
    ramp.listener.before = refuse
    ramp.block()
    ramp.hearing.record_note(4)
    assert ramp.told[1:] == [NoteEnded(START, "", 0.0)]
