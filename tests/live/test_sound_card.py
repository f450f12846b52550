"""Microphone and loudspeaker over a real (virtual) sound card, each checked against the other end."""

import os
import queue
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import pytest

from runner.errors import AudioError
from runner.voice.card.audio_clock import start_clock
from runner.voice.card.portaudio import PortAudio
from runner.voice.card.sounddevice_microphone import SounddeviceMicrophone
from runner.voice.card.sounddevice_speaker import SounddeviceSpeaker
from runner.voice.listen.echo import EchoGate
from runner.voice.listen.level import get_dbfs
from runner.voice.listen.listener import Listener
from runner.voice.listen.result import SpeechStarted, UtteranceHeard
from runner.voice.mouth.pyttsx3_voice import Pyttsx3Voice
from runner.voice.port import RATE, Block, Guess, Hearing, Samples, Sound
from runner.voice.sound import write_sound

pytestmark = [
    pytest.mark.live,
    pytest.mark.skipif("EYESOUT_LIVE" not in os.environ, reason="no virtual sound card: see .ci/sound"),
]

NEAR_SECONDS = 0.05
WAIT_SECONDS = 15.0
TONE = Sound((0.5 * np.sin(0.4 * np.arange(RATE))).astype(np.float32), RATE)
"""A second at 6 dB below full scale."""


class DeafRecogniser:
    """Hears that something was said, and never what."""

    name = "deaf"

    def __init__(self) -> None:
        self._spans: list[tuple[float, float]] = []

    def missing_words(self, phrases: object) -> tuple[str, ...]:
        """None."""
        del phrases
        return ()

    def expect(self, phrases: object) -> None:
        """Whatever."""

    def feed(self, block: Block, silence_seconds: float = 0.0) -> Guess:
        """Note its time."""
        del silence_seconds
        self._spans.append((block.started_at, block.ended_at))
        return Guess(None)

    def finish(self) -> Hearing:
        """The span alone."""
        spans, self._spans = self._spans, []
        return Hearing(None, 0.0, spans[0][0], spans[-1][1], 0.0)


@pytest.fixture
def audio() -> PortAudio:
    """The sound library."""
    return PortAudio(start_clock())


@pytest.fixture
def loop(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the microphone record what the loudspeaker plays."""
    monkeypatch.setenv("PULSE_SOURCE", "eyesout_speaker.monitor")


@contextmanager
def recording(audio: PortAudio) -> Iterator[Callable[[float], tuple[Samples, float]]]:
    """Record; what is yielded gives all sound up to a time, and when it began."""
    microphone, blocks = SounddeviceMicrophone(audio), queue.Queue[Block]()
    microphone.open(blocks.put)

    def get_until(at: float) -> tuple[Samples, float]:
        taken = [blocks.get(timeout=WAIT_SECONDS)]
        while taken[-1].ended_at < at:
            taken.append(blocks.get(timeout=WAIT_SECONDS))
        return np.concatenate([block.samples for block in taken]), taken[0].started_at

    try:
        yield get_until
    finally:
        microphone.close()
        assert microphone.dropped == 0


@contextmanager
def speaking(audio: PortAudio) -> Iterator[tuple[SounddeviceSpeaker, "queue.Queue[float]"]]:
    """A loudspeaker, and the queue that ends of playback come to."""
    speaker = SounddeviceSpeaker(audio)
    try:
        yield speaker, queue.Queue[float]()
    finally:
        speaker.close()


def get_span(samples: Samples, started_at: float) -> tuple[float, float]:
    """When the loud part began and ended."""
    loud = np.flatnonzero(np.abs(samples) > 0.05)
    return started_at + loud[0] / RATE, started_at + (loud[-1] + 1) / RATE


def test_the_list_of_devices_names_the_defaults(audio: PortAudio) -> None:
    """One can be recorded by default, one played."""
    devices = audio.devices()
    assert [device.inputs > 0 for device in devices if device.is_default_input] == [True]
    assert [device.outputs > 0 for device in devices if device.is_default_output] == [True]
    assert all(device.system == "ALSA" and device.name for device in devices)


@pytest.mark.usefixtures("loop")
def test_what_is_played_is_heard_with_its_level_its_length_and_its_true_end(audio: PortAudio) -> None:
    """A tone of a second comes back whole, and its end is told when it is heard to end."""
    with recording(audio) as get_until, speaking(audio) as (speaker, ends):
        for _ in range(3):
            speaker.play(TONE, ends.put)
            ended_at = ends.get(timeout=WAIT_SECONDS)
            samples, started_at = get_until(ended_at + 0.3)
            began, ended = get_span(samples, started_at)
            assert ended - began == pytest.approx(1.0, abs=0.005)
            assert ended_at == pytest.approx(ended, abs=NEAR_SECONDS)
            sounding = samples[round((began - started_at) * RATE) : round((ended - started_at) * RATE)]
            assert get_dbfs(sounding) == pytest.approx(get_dbfs(TONE.samples), abs=0.3)
        assert ends.empty()


@pytest.mark.usefixtures("loop")
def test_a_prompt_that_is_cut_short_falls_silent_when_it_says_so(audio: PortAudio) -> None:
    """The end is told once, at the moment from which nothing more is heard."""
    with recording(audio) as get_until, speaking(audio) as (speaker, ends):
        speaker.play(TONE, ends.put)
        get_until(audio.clock.now() + 0.4)
        stopped = audio.clock.now()
        speaker.stop()
        ended_at = ends.get(timeout=WAIT_SECONDS)
        samples, started_at = get_until(ended_at + 0.3)
        _, ended = get_span(samples, started_at)
        assert ended_at == pytest.approx(ended, abs=NEAR_SECONDS)
        assert ended - stopped < 0.2
        assert ends.empty()


@pytest.mark.usefixtures("loop")
def test_a_new_prompt_cuts_short_the_old_one(audio: PortAudio) -> None:
    """Both ends are told, in order, and the second prompt is whole."""
    with recording(audio) as get_until, speaking(audio) as (speaker, ends):
        speaker.play(TONE, lambda _at: ends.put(-1.0))
        get_until(audio.clock.now() + 0.3)
        speaker.play(TONE, ends.put)
        assert ends.get(timeout=WAIT_SECONDS) == -1.0
        ended_at = ends.get(timeout=WAIT_SECONDS)
        _, ended = get_span(*get_until(ended_at + 0.3))
        assert ended_at == pytest.approx(ended, abs=NEAR_SECONDS)


def test_what_another_program_says_is_timed_by_the_audio_clock(audio: PortAudio, tmp_path: Path) -> None:
    """Two clicks that `paplay` plays 1.5 s apart into the microphone are heard 1.5 s apart, and in time."""
    samples = np.zeros(2 * RATE, np.float32)
    for onset in (0.2, 1.7):
        samples[round(onset * RATE) : round((onset + 0.02) * RATE)] = 0.8
    write_sound(tmp_path / "clicks.wav", Sound(samples, RATE))
    with recording(audio) as get_until:
        get_until(audio.clock.now() + 0.3)
        began = audio.clock.now()
        play = ["paplay", "--latency-msec=20", "--device=eyesout_mouth", str(tmp_path / "clicks.wav")]
        subprocess.run(play, check=True)
        ended = audio.clock.now()
        heard, started_at = get_until(ended + 0.3)
    loud = np.flatnonzero(np.abs(heard) > 0.3)
    onsets = [loud[0], loud[np.flatnonzero(np.diff(loud) > RATE)[0] + 1]]
    first, second = (started_at + onset / RATE for onset in onsets)
    assert second - first == pytest.approx(1.5, abs=0.01)
    assert began + 0.2 - NEAR_SECONDS < first
    assert second + 0.3 < ended + NEAR_SECONDS


@pytest.mark.usefixtures("loop")
def test_the_tool_does_not_hear_its_own_prompts(audio: PortAudio) -> None:
    """With the loudspeaker straight in the microphone, a gated prompt is not heard; an ungated one is."""
    with Pyttsx3Voice() as voice:
        prompt = voice.render("Left main bus, selector to reserve.")
    heard: dict[bool, int] = {}
    for is_gated in (True, False):
        listener = Listener(DeafRecogniser(), gate=EchoGate(has_headset=not is_gated))
        listener.expect(1, ["set"])
        blocks, results = queue.Queue[Block](), list[object]()
        microphone = SounddeviceMicrophone(audio)
        microphone.open(blocks.put)
        with speaking(audio) as (speaker, ends):
            listener.playback_started()
            speaker.play(prompt, ends.put)
            ended_at = ends.get(timeout=WAIT_SECONDS)
            until = ended_at + 1.5
            at = 0.0
            is_told = False
            while at < until:
                block = blocks.get(timeout=WAIT_SECONDS)
                at = block.ended_at
                if not is_told and at > ended_at:
                    listener.playback_ended(ended_at)
                    is_told = True
                results += listener.hear(block)
        microphone.close()
        heard[is_gated] = sum(isinstance(result, UtteranceHeard | SpeechStarted) for result in results)
    assert heard[True] == 0
    assert heard[False] >= 2


class Server:
    """A PulseAudio of the test's own, with one sink and its monitor, that can be ended and started again."""

    def __init__(self, folder: Path) -> None:
        self.socket = folder / "native"
        self._environment = {**os.environ, "PULSE_RUNTIME_PATH": str(folder), "HOME": str(folder)}
        self._process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Start, and wait until it answers."""
        pulseaudio = shutil.which("pulseaudio")
        assert pulseaudio is not None
        command = [
            *(pulseaudio, "-n", "--daemonize=no", "--exit-idle-time=-1", "--use-pid-file=no"),
            f"--load=module-native-protocol-unix auth-anonymous=1 socket={self.socket}",
            "--load=module-null-sink sink_name=own rate=48000 channels=1 norewinds=1",
        ]
        self._process = subprocess.Popen(
            command, env=self._environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        answer = ["pactl", "--server", f"unix:{self.socket}", "info"]
        for _ in range(500):
            if subprocess.run(answer, capture_output=True, check=False).returncode == 0:
                return
        pytest.fail("the test's own PulseAudio does not answer")

    def stop(self) -> None:
        """End it: every device is gone."""
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.wait()


@pytest.fixture
def server(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Server]:
    """The test's own sound server, in force for this process."""
    own = Server(tmp_path)
    own.start()
    monkeypatch.setenv("PULSE_SERVER", f"unix:{own.socket}")
    yield own
    own.stop()


def test_a_microphone_that_disappears_is_told_of_and_found_again(audio: PortAudio, server: Server) -> None:
    """Loss and return come once each, and blocks with the right time follow."""
    changes, blocks = queue.Queue[tuple[bool, float]](), queue.Queue[Block]()
    microphone = SounddeviceMicrophone(audio, changed=lambda is_lost, at: changes.put((is_lost, at)))
    microphone.open(blocks.put)
    try:
        blocks.get(timeout=WAIT_SECONDS)
        gone_at = audio.clock.now()
        server.stop()
        is_lost, at = changes.get(timeout=WAIT_SECONDS)
        assert is_lost
        assert at - gone_at < 4.0
        while not blocks.empty():
            blocks.get()
        server.start()
        back_at = audio.clock.now()
        is_lost, at = changes.get(timeout=WAIT_SECONDS)
        assert not is_lost
        assert blocks.get(timeout=WAIT_SECONDS).started_at > back_at - 1.0
        assert changes.empty()
    finally:
        microphone.close()


def test_a_loudspeaker_that_disappears_ends_its_prompt_and_serves_again(
    audio: PortAudio, server: Server
) -> None:
    """The end is told although nothing plays any more; without a device one line is raised."""
    with speaking(audio) as (speaker, ends):
        speaker.play(TONE, ends.put)
        server.stop()
        assert ends.get(timeout=WAIT_SECONDS) <= audio.clock.now()
        with pytest.raises(AudioError, match="loudspeaker cannot be opened"):
            speaker.play(TONE, ends.put)
        server.start()
        speaker.play(TONE, ends.put)
        assert ends.get(timeout=WAIT_SECONDS) > 0.0
        assert ends.empty()


def test_without_a_sound_server_one_line_is_raised(
    audio: PortAudio, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Neither end opens, and the message says what to look at."""
    monkeypatch.setenv("PULSE_SERVER", f"unix:{tmp_path}/nowhere")
    with pytest.raises(AudioError, match=r"microphone cannot be opened.*eyesout devices") as caught:
        SounddeviceMicrophone(audio).open(lambda _block: None)
    assert "\n" not in str(caught.value)
    with pytest.raises(AudioError, match="loudspeaker cannot be opened"):
        SounddeviceSpeaker(audio).play(TONE, lambda _at: None)


@pytest.mark.parametrize("device", ["no such device", "999"])
def test_a_device_that_is_not_there_is_named(audio: PortAudio, device: str) -> None:
    """By name or by number."""
    with pytest.raises(AudioError, match=f"the microphone '{device}' cannot be opened"):
        SounddeviceMicrophone(audio, device).open(lambda _block: None)
