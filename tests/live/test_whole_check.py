"""A whole check over a real (virtual) sound card: the tool's prompts out, a synthetic pilot's answers in.

The truth is what a second program records of both sinks, by counting its own samples.
"""

import os
import subprocess
import threading
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Self

import numpy as np
import numpy.typing as npt
import pytest

from runner.core.event import Answered, Event, Misheard, PlaybackEnded
from runner.core.grid.machine import Machine
from runner.core.record.run_summary import Summary, summarise
from runner.core.state import State
from runner.language.spelling import normalise
from runner.logbook.record.run_store import Logbook
from runner.session.beginning import begin_run
from runner.session.engine import BUILTIN
from runner.session.live.equipment import Ends, Equipment, EquipmentChoice, open_equipment
from runner.session.live.live_room import LiveRoom, run_live
from runner.session.live.note_clip import ClipFolder
from runner.session.parts import load_parts
from runner.session.scripted.pilot_script import ScriptLine, load_script
from runner.session.scripted.scripted_pilot import Pilot, PilotMoment
from runner.session.scripted.scripted_run import point_of
from runner.session.scripted.studio import SPEECH_RMS
from runner.session.session import Session
from runner.voice.background import get_active_rms
from runner.voice.card.audio_clock import start_clock
from runner.voice.listen.endpoint import Patience
from runner.voice.mouth.pyttsx3_voice import Pyttsx3Voice, make_pilot_voice
from runner.voice.port import RATE, Sound
from runner.voice.sound import resample, trim, write_sound

FOLDER = Path(__file__).resolve().parent

pytestmark = [
    pytest.mark.live,
    pytest.mark.skipif("EYESOUT_LIVE" not in os.environ, reason="no virtual sound card: see .ci/sound"),
    pytest.mark.timeout(240),
]


@dataclass
class Recorder:
    """`parec` on one sink's monitor."""

    sink: str
    path: Path
    process: subprocess.Popen[bytes] = field(init=False)

    def __enter__(self) -> Self:
        command = ["parec", "-d", f"{self.sink}.monitor", f"--rate={RATE}", "--format=s16le", "--channels=1"]
        with self.path.open("wb") as file:
            self.process = subprocess.Popen([*command, "--latency-msec=20"], stdout=file)
        return self

    def __exit__(self, *_: object) -> None:
        self.process.terminate()
        self.process.wait()

    def samples(self) -> npt.NDArray[np.float64]:
        """What was recorded, between -1 and 1."""
        return np.frombuffer(self.path.read_bytes(), np.int16) / 32768.0


class Mouth:
    """The synthetic pilot's mouth: a WAV file a line, played into the virtual microphone by `paplay`."""

    def __init__(self, voice: Pyttsx3Voice, folder: Path) -> None:
        self._voice, self._folder = voice, folder
        self._players: list[subprocess.Popen[bytes]] = []

    def say(self, line: ScriptLine) -> float:
        """Start to speak; gives the seconds that it takes."""
        path = self._folder / f"{len(self._players)}.wav"
        speech = trim(resample(self._voice.render(line.say), RATE), keep_seconds=0.0).samples
        speech = speech * np.float32(SPEECH_RMS / get_active_rms(speech))
        write_sound(path, Sound(speech, RATE))
        self._players.append(subprocess.Popen(["paplay", "--device=eyesout_mouth", str(path)]))
        return len(speech) / RATE

    def close(self) -> None:
        """Wait for the last word."""
        for player in self._players:
            player.wait()


class Watched(Session):
    """A session whose events a pilot watches, to speak when it is time."""

    def watch(self, room: LiveRoom, pilot: Pilot, mouth: Mouth) -> None:
        """Set up before the first event."""
        self.room, self.pilot, self.mouth = room, pilot, mouth
        self.silent_since: float | None = None
        self.spoke_until = 0.0
        self.said: list[ScriptLine] = []
        self.heard: list[Answered | Misheard] = []
        self.prompt_ends: list[float] = []

    def take(self, event: Event) -> None:
        """Let the run go on, then see whether the pilot has something to say."""
        turn = self.machine.turn
        super().take(event)
        if isinstance(event, (Answered, Misheard)):
            self.heard.append(event)
            self.pilot.was_heard(is_taken=isinstance(event, Answered))
        if isinstance(event, PlaybackEnded) and event.turn == self.machine.turn:
            self.silent_since = event.at
            self.prompt_ends.append(event.at)
        elif self.machine.turn != turn:
            self.silent_since = None
        self._speak()

    def _speak(self) -> None:
        now = self.room.clock.now()
        clocks = {clock.item: clock.started_at for clock in self.machine.progress.open_clocks}
        point = point_of(self.machine)
        if self.machine.state is State.COMPLETE:
            return
        moment = PilotMoment(now, self.machine.turn, point, self.silent_since, clocks, self.spoke_until)
        line = self.pilot.next_line(moment)
        if line is not None:
            self.said.append(line)
            self.spoke_until = now + self.mouth.say(line) + 0.3


@dataclass(frozen=True)
class Outcome:
    """What the run left behind."""

    summary: Summary
    state: State
    said: list[ScriptLine]
    heard: list[Answered | Misheard]
    prompt_ends: list[float]
    """When each prompt ended by the loudspeaker's own word, seconds since the epoch."""
    pilot_sound: npt.NDArray[np.float64]
    prompt_sound: npt.NDArray[np.float64]


@contextmanager
def _equipment(room: LiveRoom, logbook: Logbook, check: str, prompts: Path) -> Iterator[Equipment]:
    wanted = EquipmentChoice(
        BUILTIN,
        "",
        "",
        "",
        130,
        patience=Patience.NORMAL,
        has_emphasis=False,
        has_headset=False,
        prompts=prompts,
    )
    ends = Ends(room.put, ClipFolder(logbook.clips, check).keep)
    equipment = open_equipment(wanted, load_parts(check), room.clock, ends)
    try:
        yield equipment
    finally:
        equipment.close()


@pytest.fixture(scope="module")
def outcome(tmp_path_factory: pytest.TempPathFactory) -> Outcome:
    """Run the short check once."""
    return run_check(tmp_path_factory.mktemp("live"))


def run_check(folder: Path) -> Outcome:
    """Run the short check in real time over the virtual sound card."""
    check = str(FOLDER / "short-reserve.yaml")
    parts = load_parts(check)
    script = load_script(FOLDER / "short-pilot.yaml", noises=())
    with ExitStack() as stack:
        logbook = stack.enter_context(Logbook.open(folder / "logbook"))
        machine = Machine(parts.plan)
        room = LiveRoom(machine, start_clock(), lambda: None)
        record = stack.enter_context(
            begin_run(
                logbook,
                parts,
                pilot="synthetic",
                started_at=room.clock.now(),
                engine=BUILTIN,
                is_invented=True,
            )
        )
        voice = make_pilot_voice(script.voice)
        stack.callback(voice.close)
        equipment = stack.enter_context(_equipment(room, logbook, check, folder / "prompts"))
        assert equipment.notices == []
        room.equip(equipment.speech, equipment.hearing)
        mouth = Mouth(voice, folder)
        pilot_side = stack.enter_context(Recorder("eyesout_mouth", folder / "pilot.raw"))
        tool_side = stack.enter_context(Recorder("eyesout_speaker", folder / "prompts.raw"))
        session = Watched(machine, record.append, room)
        session.watch(room, Pilot(script), mouth)
        limit = threading.Timer(200.0, room.stop)
        limit.start()
        run_live(session, room)
        limit.cancel()
        mouth.close()
    summary = summarise(machine.progress)
    sounds = pilot_side.samples(), tool_side.samples()
    return Outcome(summary, machine.state, session.said, session.heard, session.prompt_ends, *sounds)


def _onsets(sound: npt.NDArray[np.float64]) -> list[float]:
    """Seconds at which something begins after half a second of silence."""
    loud = np.flatnonzero(np.abs(sound) > 0.01)
    starts = [loud[0], *loud[1:][np.diff(loud) > RATE // 2]]
    return [float(start) / RATE for start in starts]


def test_the_whole_check_is_completed_by_voice(outcome: Outcome) -> None:
    """Every item has its answer, and none is a squawk."""
    assert outcome.state is State.COMPLETE
    assert outcome.summary.unanswered == ()
    assert outcome.summary.squawks == ()


def test_each_thing_said_is_heard_once_and_nothing_else(outcome: Outcome) -> None:
    """What was heard is what the pilot said, in order: the tool never answers itself."""
    texts = [event.text for event in outcome.heard if isinstance(event, Answered)]
    assert texts == [normalise(line.say) for line in outcome.said]
    assert len(texts) == len(outcome.heard)


def test_the_volts_are_exact(outcome: Outcome) -> None:
    """Both readings stand in the record as they were said."""
    volts = {answer.item: Decimal(answer.answer) for answer in outcome.summary.answers if answer.unit}
    assert volts == {"battery at rest": Decimal("25.2"), "volts on reserve": Decimal("24.1")}


def test_the_spin_up_times_are_true(outcome: Outcome) -> None:
    """Within 0.15 s of the time between the two onsets in the second program's recording."""
    onsets = _onsets(outcome.pilot_sound)
    assert len(onsets) == len(outcome.said)
    said_at = {line.say: onset for line, onset in zip(outcome.said, onsets, strict=True)}
    power_on = said_at["reserve selected"]
    truth = {
        "left attitude": said_at["attitude flag pulled"] - power_on,
        "left compass": said_at["compass flag pulled"] - power_on,
    }
    assert {clock.item for clock in outcome.summary.clocks} == set(truth)
    for clock in outcome.summary.clocks:
        assert clock.seconds == pytest.approx(truth[clock.item], abs=0.15)


def test_the_prompts_were_played(outcome: Outcome) -> None:
    """The virtual loudspeaker's recording holds a stretch of sound for at least every answer."""
    assert len(_onsets(outcome.prompt_sound)) >= len(outcome.said)
