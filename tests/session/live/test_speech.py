"""A prompt always comes to its end, whatever voice and loudspeaker do."""

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import numpy as np
import pytest

from runner.core.event import PlaybackEnded, Port, PortBack, PortFailed
from runner.errors import AudioError, VoiceError
from runner.session.live.attendant import CALM_SECONDS, LIMIT_SECONDS
from runner.session.live.prompt_mouth import Mouth
from runner.session.live.speech import GRACE_SECONDS, Speech
from runner.voice.port import RATE, Sound
from tests.session.simulation import EVER, Simulation

START = 1000.0


class _Voice:
    """A second for any text; what it is told to do first may raise or hang."""

    name = "set by hand"

    def __init__(self) -> None:
        self.before: Callable[[], None] = lambda: None

    def render(self, text: str) -> Sound:
        """After that."""
        assert text
        self.before()
        return Sound(np.zeros(RATE, np.float32), RATE)


class _Speaker:
    """Plays until it is told to end, or is cut short."""

    def __init__(self, simulation: Simulation) -> None:
        self._simulation = simulation
        self.before: Callable[[], None] = lambda: None
        self.playing: Callable[[float], None] | None = None
        self.played = 0
        self.stopped = 0

    def play(self, sound: Sound, ended: Callable[[float], None]) -> None:
        """Cut short what plays, then play."""
        assert sound.seconds == 1.0
        self.end()
        self.before()
        self.played += 1
        self.playing = ended

    def end(self) -> None:
        """What plays has ended."""
        playing, self.playing = self.playing, None
        if playing is not None:
            playing(self._simulation.now())

    def stop(self) -> None:
        """Cut short."""
        self.stopped += 1
        self.end()

    def close(self) -> None:
        """Nothing is held."""


class _Gate:
    """The ear's side."""

    def __init__(self) -> None:
        self.is_open = True

    def prompt_started(self) -> None:
        """It closes."""
        self.is_open = False

    def prompt_ended(self, at: float) -> None:
        """It opens."""
        assert at >= START
        self.is_open = True


class _Stage:
    """Speech with everything around it."""

    def __init__(self) -> None:
        self.simulation = Simulation(START)
        self.voice, self.speaker, self.gate = _Voice(), _Speaker(self.simulation), _Gate()
        self.told: list[object] = []
        self.speech = Speech(Mouth(self.voice), self.speaker, self.simulation, self.told.append)
        self.speech.gate = self.gate
        self.simulation.attendants = list(self.speech.attendants)

    def wait(self, seconds: float) -> None:
        """Let time go by, looking at the end of it."""
        self.simulation.get(self.simulation.now() + seconds)
        self.speech.look(self.simulation.now())
        self.simulation.get(self.simulation.now())


@contextmanager
def _made() -> Iterator[_Stage]:
    made = _Stage()
    yield made
    made.simulation.end()
    assert made.speech.close()


@pytest.fixture
def stage() -> Iterator[_Stage]:
    """Closed afterwards, without a thread left."""
    with _made() as made:
        yield made


def test_a_prompt_is_played_with_the_ear_shut_until_its_end(stage: _Stage) -> None:
    """The end opens the ear and is told."""
    stage.speech.say(1, "Volts.")
    stage.wait(0.0)
    assert not stage.gate.is_open
    stage.speaker.end()
    assert stage.gate.is_open
    assert stage.told == [PlaybackEnded(START, 1)]


def test_a_newer_prompt_cuts_the_older_short_and_keeps_the_ear_shut(stage: _Stage) -> None:
    """What ends is not the prompt that is being spoken."""
    stage.speech.say(1, "Volts.")
    stage.wait(0.0)
    stage.speech.say(2, "Lamps.")
    stage.wait(0.0)
    assert stage.told == [PlaybackEnded(START, 1)]
    assert not stage.gate.is_open


@pytest.mark.parametrize("error", [VoiceError("no voice"), OSError(28, "No space left on device")])
def test_what_cannot_be_rendered_counts_as_said(stage: _Stage, error: Exception) -> None:
    """The question stands on the screen and is listened for."""

    def refuse() -> None:
        raise error

    stage.voice.before = refuse
    stage.speech.say(1, "Volts.")
    stage.wait(0.0)
    failed, ended = stage.told
    assert isinstance(failed, PortFailed)
    assert (failed.port, ended) == (Port.MOUTH, PlaybackEnded(START, 1))
    assert stage.gate.is_open


def test_a_voice_that_hangs_is_given_up_and_heard_again_later(stage: _Stage) -> None:
    """The question counts as said; the next one is on the screen at once; then the voice is back."""
    stage.voice.before = lambda: stage.simulation.hang(LIMIT_SECONDS + CALM_SECONDS + 1.0)
    stage.speech.say(1, "Volts.")
    stage.wait(LIMIT_SECONDS)
    at = START + LIMIT_SECONDS
    assert stage.told == [PortFailed(at, Port.MOUTH, "no answer for 5 s"), PlaybackEnded(at, 1)]
    stage.speech.say(2, "Lamps.")
    assert stage.told[-1] == PlaybackEnded(at, 2)
    stage.voice.before = lambda: None
    stage.wait(CALM_SECONDS + 1.0)
    assert isinstance(stage.told[-1], PortBack)
    assert stage.speaker.played == 0
    stage.speech.say(3, "Horn.")
    stage.wait(0.0)
    assert stage.speaker.played == 1


def test_a_prompt_that_waits_behind_one_that_hangs_counts_as_said_with_it(stage: _Stage) -> None:
    """It was asked for before anybody knew; when the voice answers at last, neither is spoken."""
    stage.voice.before = lambda: stage.simulation.hang(LIMIT_SECONDS + 1.0)
    stage.speech.say(1, "Volts.")
    stage.wait(LIMIT_SECONDS - 1.0)
    stage.speech.say(2, "Lamps.")
    stage.wait(1.0)
    at = START + LIMIT_SECONDS
    assert stage.told[1:] == [PlaybackEnded(at, 1), PlaybackEnded(at, 2)]
    stage.voice.before = lambda: None
    stage.wait(1.0)
    assert stage.speaker.played == 0
    stage.speech.say(3, "Horn.")
    stage.wait(0.0)
    assert stage.speaker.played == 1


def test_nothing_older_goes_on_sounding_when_a_prompt_is_given_up(stage: _Stage) -> None:
    """The ear is open for the new question: it must not hear the old one."""
    stage.speech.say(1, "Volts.")
    stage.wait(0.0)
    stage.voice.before = lambda: stage.simulation.hang(EVER)
    stage.speech.say(2, "Lamps.")
    stage.wait(LIMIT_SECONDS)
    assert stage.speaker.stopped > 0
    assert stage.speaker.playing is None
    assert stage.gate.is_open


def test_a_loudspeaker_that_cannot_be_opened_is_told_and_survived(stage: _Stage) -> None:
    """It was taken away in the middle of a run."""

    def refuse() -> None:
        raise AudioError("the loudspeaker cannot be opened")

    stage.speaker.before = refuse
    stage.speech.say(1, "Volts.")
    stage.wait(0.0)
    assert [type(each) for each in stage.told] == [PortFailed, PlaybackEnded]
    assert stage.gate.is_open
    stage.speech.say(2, "Lamps.")
    stage.wait(0.0)
    assert stage.told[-1] == PlaybackEnded(START, 2)


def test_a_sound_that_starts_late_is_cut_at_once(stage: _Stage) -> None:
    """It was given up: the ear is open and would hear it."""
    stage.speaker.before = lambda: stage.simulation.hang(LIMIT_SECONDS + 2.0)
    stage.speech.say(1, "Volts.")
    stage.wait(LIMIT_SECONDS)
    assert stage.gate.is_open
    stage.speech.say(2, "Lamps.")
    stage.wait(0.0)
    assert stage.told[-1] == PlaybackEnded(START + LIMIT_SECONDS, 2)
    stage.wait(2.0)
    assert stage.speaker.playing is None


def test_an_end_that_is_never_told_is_missed(stage: _Stage) -> None:
    """Some time after the prompt's length."""
    stage.speech.say(1, "Volts.")
    stage.wait(1.0 + GRACE_SECONDS - 0.1)
    assert stage.told == []
    stage.wait(0.1)
    assert [type(each) for each in stage.told[:2]] == [PortFailed, PlaybackEnded]
    assert stage.speaker.playing is None
    assert stage.gate.is_open


def test_a_farewell_that_hangs_is_waited_for_no_longer_than_its_limit(stage: _Stage) -> None:
    """The run is over; the pilot wants to leave."""
    stage.voice.before = lambda: stage.simulation.hang(EVER)
    stage.speech.tell("The left gyro takes longer.")
    assert stage.simulation.now() == pytest.approx(START + LIMIT_SECONDS, abs=0.3)


def test_a_stage_leaves_no_thread() -> None:
    """After it is closed."""
    before = set(threading.enumerate())
    with _made() as made:
        made.speech.say(1, "Volts.")
        made.wait(0.0)
    assert set(threading.enumerate()) == before
