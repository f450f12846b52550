"""The ear takes no answer from the tool's own prompts, played back into the microphone without a headset.

The virtual loudspeaker is led into the microphone by PulseAudio's loopback, 40 ms late, at one level after
another; every challenge is an answer to itself, and each read-back one to the next reading. All is answered
by keys, so that whatever is heard is the tool.
"""

import os
import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import cycle
from pathlib import Path

import pytest

from runner.core.ask.outlook import outlook_of
from runner.core.event import Answered, Channel, Event, Misheard, PlaybackEnded
from runner.core.grid.machine import Machine
from runner.core.record.entry import Entry
from runner.core.state import FINAL, State
from runner.language.catalogue import Word
from runner.language.meaning import Command, Meaning, Value
from runner.session.engine import BUILTIN
from runner.session.live.equipment import Ends, EquipmentChoice, open_equipment
from runner.session.live.live_room import LiveRoom, run_live
from runner.session.parts import load_parts
from runner.session.session import Session
from runner.voice.card.audio_clock import start_clock
from runner.voice.listen.endpoint import Patience

pytestmark = [
    pytest.mark.live,
    pytest.mark.skipif("EYESOUT_LIVE" not in os.environ, reason="no virtual sound card: see .ci/sound"),
    pytest.mark.timeout(120),
]

LEVELS_DB = (-40, -20, 0, 6)
"""Of the echo against the prompt as it is played: from hardly there to louder than it was played."""
QUIET_SECONDS = 1.0
"""A key comes so long after a prompt: an echo that was heard would have been understood by then."""
HEAD = """
check: Own prompts
cautions: [For use on the ground only. The flight manual and the pilot in command decide.]
sections:
  - section: All
    items:
"""
READING = """
      - item: volts {n}
        challenge: Two four decimal six volts
        reading: {{unit: volts, resolution: 0.1, pass: 24.6 to 27.0}}
"""
LAMPS = """
      - {{item: lamps {n}, challenge: Both lit, state: {{both lit: pass, left out: squawk}}}}
"""
CALL = "      - {item: complete, challenge: Check complete, call: check complete}\n"


class Loopback:
    """PulseAudio's loopback from the loudspeaker into the microphone, at a level that may be set."""

    def __init__(self) -> None:
        self._module = _pactl(
            "load-module module-loopback source=eyesout_speaker.monitor sink=eyesout_mouth latency_msec=1"
        ).strip()
        inputs = _pactl("list sink-inputs").split("Sink Input #")
        (own,) = (each for each in inputs if f"Owner Module: {self._module}\n" in each)
        self._input = own.split()[0]

    def set_level(self, decibels: int) -> None:
        """Decibels against the loudspeaker; PulseAudio's own scale is the cube root of the factor."""
        _pactl(f"set-sink-input-volume {self._input} {round(65536 * 10 ** (decibels / 60))}")

    def close(self) -> None:
        """Take it away."""
        _pactl(f"unload-module {self._module}")


def _pactl(command: str) -> str:
    return subprocess.run(["pactl", *command.split()], check=True, capture_output=True, text=True).stdout


@pytest.fixture
def loopback() -> Iterator[Loopback]:
    """The loudspeaker in the microphone, while a test runs."""
    made = Loopback()
    yield made
    made.close()


class KeyedSession(Session):
    """Answers each question by key, a second after its prompt; what comes by ear is kept."""

    ends_when_heard = False

    def watch(self, room: LiveRoom, loopback: Loopback, levels: Iterator[int]) -> None:
        """Set up before the first event."""
        self.room, self.loopback, self.levels = room, loopback, levels
        self.heard: list[Answered | Misheard] = []
        self.loudest: dict[int, float] = {}
        self.level = next(levels)
        loopback.set_level(self.level)
        self._silent_since: float | None = None

    def take(self, event: Event) -> None:
        """Let the run go on, and answer when it is quiet."""
        super().take(event)
        if isinstance(event, Misheard) or (isinstance(event, Answered) and event.channel is Channel.VOICE):
            self.heard.append(event)
            if self.ends_when_heard and isinstance(event, Answered):
                self.room.stop()
        if self.room.hearing is not None and self.room.hearing.level is not None:
            dbfs = self.room.hearing.level.dbfs
            self.loudest[self.level] = max(dbfs, self.loudest.get(self.level, dbfs))
        if isinstance(event, PlaybackEnded) and event.turn == self.machine.turn:
            self._silent_since = event.at
        now = self.room.clock.now()
        if self._silent_since is not None and now - self._silent_since > QUIET_SECONDS:
            self._silent_since = None
            self._answer()

    def _answer(self) -> None:
        outlook = outlook_of(self.machine.progress)
        if outlook.state in FINAL:
            return
        self.level = next(self.levels, self.level)
        self.loopback.set_level(self.level)
        meaning: Meaning = Command(Word.CONTINUE)
        if outlook.gauge is not None and outlook.item is not None:
            meaning = Value(outlook.item.name, outlook.gauge.pass_band.low)
        elif outlook.answers:
            meaning = outlook.answers[0].meaning
        self.room.key(self.machine.turn, meaning, "by key")


@contextmanager
def run(
    folder: Path, loopback: Loopback, levels: tuple[int, ...], *, has_headset: bool
) -> Iterator[KeyedSession]:
    """The whole check in real time, with the shipped voice and ear."""
    path = folder / "own-prompts.yaml"
    items = (
        kind.format(n=n) for n, (kind, _) in enumerate(zip(cycle((READING, LAMPS)), levels, strict=False))
    )
    path.write_text(HEAD + "".join(items) + CALL, encoding="utf-8")
    parts = load_parts(str(path))
    machine, entries = Machine(parts.plan), list[Entry]()
    room = LiveRoom(machine, start_clock(), lambda: None)
    wanted = EquipmentChoice(
        BUILTIN, "", "", "", 130, has_emphasis=False, patience=Patience.NORMAL, has_headset=has_headset,
        prompts=folder / "prompts",
    )  # fmt: skip
    equipment = open_equipment(wanted, parts, room.clock, Ends(room.put, lambda _: ""))
    assert equipment.notices == []
    room.equip(equipment.speech, equipment.hearing)
    session = KeyedSession(machine, entries.append, room)
    session.ends_when_heard = has_headset
    session.watch(room, loopback, iter(levels))
    limit = threading.Timer(60.0, room.stop)
    limit.start()
    try:
        run_live(session, room)
        yield session
    finally:
        limit.cancel()
        equipment.close()


def test_no_prompt_answers_itself_at_any_level(tmp_path: Path, loopback: Loopback) -> None:
    """Not a word is heard from an echo that is barely there to one that is louder than the prompt."""
    with run(tmp_path, loopback, LEVELS_DB, has_headset=False) as session:
        assert session.machine.state is State.COMPLETE
        assert session.heard == []
        assert session.machine.progress.channel is Channel.VOICE
        loudest = [session.loudest[level] for level in LEVELS_DB]
    assert loudest[-1] > -20.0, "the prompts came to the microphone"
    assert loudest[-1] - loudest[0] > 30.0


def test_with_the_gate_open_the_same_prompts_do_answer(tmp_path: Path, loopback: Loopback) -> None:
    """So the test before would tell: somebody who says that he wears a headset, and wears none."""
    with run(tmp_path, loopback, (0, 0, 0), has_headset=True) as session:
        taken = [event.text for event in session.heard if isinstance(event, Answered)]
    assert len(taken) == 1, "the first word that it takes from itself ends the run"
