"""A lesson over a real (virtual) sound card: prompts go out, a synthetic pilot's phrases come in."""

import argparse
import io
import json
import os
import subprocess
from collections.abc import Iterator
from functools import partialmethod
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from runner.command import learn, live, mic
from runner.command import run as run_command
from runner.logbook.record.run_store import Logbook
from runner.session.beginning import begin_run
from runner.session.learn.teacher import Teacher
from runner.session.parts import load_parts
from runner.session.scripted.studio import SPEECH_RMS
from runner.voice.background import get_active_rms
from runner.voice.card.audio_clock import start_clock
from runner.voice.card.portaudio import PortAudio, Role
from runner.voice.lesson.lesson import LESSON
from runner.voice.mouth.pyttsx3_voice import make_pilot_voice
from runner.voice.port import RATE, Sound
from runner.voice.sound import resample, trim, write_sound

pytestmark = [
    pytest.mark.live,
    pytest.mark.skipif("EYESOUT_LIVE" not in os.environ, reason="no virtual sound card: see .ci/sound"),
]

SHORT = LESSON[:7]
"""Six answers and one phrase that is none."""
REACTION = np.zeros(RATE // 2, np.float32)
"""Half a second before the pilot speaks."""


@pytest.fixture
def players(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[list[subprocess.Popen[bytes]]]:
    """A pilot who says what is asked, after the prompt has truly ended; a short lesson; an empty home."""
    started: list[subprocess.Popen[bytes]] = []
    with make_pilot_voice() as voice:

        class PilotBooth(learn.SoundBooth):
            """Has somebody in it."""

            def ask(self, words: str) -> float:
                """Speak the prompt, then let the pilot answer."""
                ended_at = super().ask(words)
                _, _, phrase = words.partition("Say: ")
                if phrase:
                    speech = trim(resample(voice.render(phrase), RATE), keep_seconds=0.0).samples
                    speech = speech * np.float32(SPEECH_RMS / get_active_rms(speech))
                    path = tmp_path / f"{len(started)}.wav"
                    write_sound(path, Sound(np.concatenate([REACTION, speech]), RATE))
                    started.append(subprocess.Popen(["paplay", "--device=eyesout_mouth", str(path)]))
                return ended_at

        monkeypatch.setattr(learn, "SoundBooth", PilotBooth)
        monkeypatch.setattr(Teacher, "teach", partialmethod(Teacher.teach, SHORT))
        monkeypatch.setattr("runner.place.platformdirs.user_data_path", lambda name: tmp_path / name)
        yield started
        for player in started:
            player.wait()


def asked(*words: str) -> Any:
    """What `eyesout mic` prints as JSON."""
    parser, out = argparse.ArgumentParser(), io.StringIO()
    mic.add_arguments(parser)
    assert mic.run(parser.parse_args([*words, "--json"]), out) == 0
    return json.loads(out.getvalue())


def choice(tmp_path: Path, *words: str) -> tuple[str, float | None, str]:
    """The ear that `eyesout run` would take."""
    parser = argparse.ArgumentParser()
    run_command.add_arguments(parser)
    arguments = parser.parse_args(["merlow-reserve", *words])
    with Logbook.open(tmp_path / "logbook") as logbook:
        ear = live._choose_ear(arguments, logbook, start_clock())
    return ear.engine, ear.threshold, ear.notice


def test_a_lesson_is_given_kept_used_and_forgotten(
    players: list[subprocess.Popen[bytes]], tmp_path: Path
) -> None:
    """Everything that was said is heard at once; a run of the same pilot on the same microphone uses it."""
    learned = asked("--learn", "--by", "Ada Rook", "--engine", "builtin")
    assert len(players) == len(SHORT)
    (ear,) = learned["ears"]
    assert (ear["as_shipped"]["right"], ear["as_shipped"]["others"], ear["as_shipped"]["others_taken"]) == (
        6,
        1,
        0,
    )
    assert learned["measures"]["clipped"] == 0
    assert learned["measures"]["speech_dbfs"] - learned["measures"]["floor_dbfs"] > 30.0
    assert learned["device"] == PortAudio(start_clock()).name_of(Role.MICROPHONE)
    assert Path(learned["kept"]).is_relative_to(tmp_path)

    engine, threshold, notice = choice(tmp_path, "--by", "Ada Rook")
    assert (engine, threshold) == ("builtin", ear["threshold"])
    assert notice.startswith(f"using what was learned of Ada Rook on {learned['device']}, ")
    assert choice(tmp_path, "--by", "Ada Rook", "--engine", "vosk") == ("vosk", None, "")
    assert choice(tmp_path, "--by", "Somebody Else") == ("builtin", None, "")
    assert choice(tmp_path, "--by", "Ada Rook", "--keys") == ("builtin", None, "")

    with Logbook.open(tmp_path / "logbook") as logbook:
        begin_run(
            logbook, load_parts("merlow-reserve"), pilot="Ada Rook", started_at=1796280000.0, engine=None
        ).close()
    assert choice(tmp_path, "--resume") == (engine, threshold, notice)
    assert choice(tmp_path) == ("builtin", None, "")

    assert asked("--forget", "--by", "Ada Rook")["forgotten"] is True
    assert choice(tmp_path, "--by", "Ada Rook") == ("builtin", None, "")
    assert asked("--forget", "--by", "Ada Rook")["forgotten"] is False
