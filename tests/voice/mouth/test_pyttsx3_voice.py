"""The voice through pyttsx3, really rendering in its child process."""

import ctypes
import os
import sys
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from runner.errors import VoiceError
from runner.voice.listen.level import get_dbfs
from runner.voice.mouth import pyttsx3_voice, speaking_child
from runner.voice.mouth.pyttsx3_voice import Pyttsx3Voice, make_pilot_voice
from runner.voice.port import RATE
from runner.voice.sound import resample


@pytest.fixture(scope="module")
def spoken() -> Iterator[Pyttsx3Voice]:
    """The default voice."""
    with Pyttsx3Voice() as voice:
        yield voice


def make_child(folder: Path, monkeypatch: pytest.MonkeyPatch, program: str) -> None:
    """Put another program in the child's place."""
    path = folder / "child.py"
    path.write_text(program)
    monkeypatch.setattr(speaking_child, "__file__", str(path))


def test_a_prompt_is_sound_without_silence_at_its_ends(spoken: Pyttsx3Voice) -> None:
    """Audible, of a length that a sentence has, and starting at once."""
    sound = spoken.render("Left main bus, selector to reserve.")
    assert 1.0 < sound.seconds < 4.0
    assert get_dbfs(sound.samples) > -30.0
    assert np.flatnonzero(np.abs(sound.samples) > 0.004)[0] / sound.rate < 0.02


def test_each_of_many_prompts_is_whole(spoken: Pyttsx3Voice) -> None:
    """One text after another, none is cut short by the one before."""
    lengths = {text: spoken.render(text).seconds for text in ("two,", "Left main bus.", "Right gyro, flag.")}
    for _ in range(10):
        for text, seconds in lengths.items():
            assert spoken.render(text).seconds == pytest.approx(seconds, abs=0.05)


@pytest.mark.parametrize("run", range(3))
def test_the_first_prompt_is_whole_and_at_its_rate(spoken: Pyttsx3Voice, run: int) -> None:
    """A fresh child speaks its first text like any other."""
    del run
    text = "Right main bus and then some."
    with Pyttsx3Voice() as fresh:
        assert fresh.render(text).seconds == pytest.approx(spoken.render(text).seconds, abs=0.05)


def test_the_rate_sets_the_speed() -> None:
    """Twice the rate takes half the time, from the first prompt on; 130 is an easy pace for a challenge."""
    text = "Left main bus, selector to reserve."
    seconds = {}
    for rate in (100, 130, 200):
        with Pyttsx3Voice(rate=rate) as voice:
            seconds[rate] = voice.render(text).seconds
    assert seconds[100] / seconds[200] == pytest.approx(2.0, rel=0.25)
    assert len(text.split()) / seconds[130] * 60.0 == pytest.approx(130.0, rel=0.2)


def test_the_pilot_sounds_unlike_the_tool(spoken: Pyttsx3Voice) -> None:
    """The scripted pilot's voice has another pitch: the strongest low harmonic lies higher."""
    with make_pilot_voice() as pilot:
        sounds = [voice.render("alive and in view") for voice in (spoken, pilot)]
    tracks = [np.abs(np.fft.rfft(resample(sound, RATE).samples, 1 << 17))[:4000] for sound in sounds]
    assert float(np.corrcoef(tracks[0], tracks[1])[0, 1]) < 0.5


@pytest.mark.parametrize("text", ["", " ", "...", "-"])
def test_a_text_without_a_word_is_silent(spoken: Pyttsx3Voice, text: str) -> None:
    """Nothing to say is no error, and hangs nothing."""
    assert len(spoken.render(text).samples) == 0


def test_odd_characters_do_no_harm(spoken: Pyttsx3Voice) -> None:
    """Quotes, line ends and other alphabets stay within one request."""
    assert spoken.render('He said "off"\nand then \\n größe').seconds > 1.0
    assert spoken.render("two").seconds < 1.0


def test_nothing_is_printed(capfd: pytest.CaptureFixture[str]) -> None:
    """The library prints; the user's screen stays clean."""
    with Pyttsx3Voice() as voice:
        voice.render("two")
    assert capfd.readouterr() == ("", "")


def test_an_unknown_voice_is_refused_in_one_line() -> None:
    """The message holds the voice's name."""
    with Pyttsx3Voice("nobody-here") as voice, pytest.raises(VoiceError, match="nobody-here") as caught:
        voice.render("two")
    assert "\n" not in str(caught.value)


def test_without_a_synthesiser_one_line_says_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The library cannot be loaded: the child says so and the parent passes it on."""
    own = Path(speaking_child.__file__).read_text()
    make_child(tmp_path, monkeypatch, own.replace('"libespeak-ng.so.1"', '"missing.so"'))
    broken = tmp_path / "espeakng_loader.py"
    broken.write_text("raise ImportError('none')")
    (tmp_path / "pyttsx3.py").write_text("raise RuntimeError('you do not have eSpeak installed')")
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    with Pyttsx3Voice("system") as voice, pytest.raises(VoiceError, match="apt install libespeak-ng1"):
        voice.render("two")


def test_a_child_that_dies_is_told_of_and_replaced(spoken: Pyttsx3Voice) -> None:
    """The prompt under way fails; the next one is spoken by a new child."""
    child = spoken._child
    assert child is not None
    child.kill()
    child.wait()
    with pytest.raises(VoiceError, match="synthesiser stopped"):
        spoken.render("two")
    assert spoken.render("two").seconds > 0.1


def test_a_child_that_hangs_is_ended(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Patience has an end."""
    make_child(tmp_path, monkeypatch, "import threading\nthreading.Event().wait()")
    monkeypatch.setattr(pyttsx3_voice, "PATIENCE_SECONDS", 0.2)
    with Pyttsx3Voice() as voice, pytest.raises(VoiceError, match="synthesiser stopped"):
        voice.render("two")


def test_closing_lets_go_of_a_prompt_that_hangs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody waits for its patience to end, and no new child is started afterwards."""
    program = "print('{\"error\": null}', flush=True)\nimport threading\nthreading.Event().wait()"
    make_child(tmp_path, monkeypatch, program)
    monkeypatch.setattr(pyttsx3_voice, "PATIENCE_SECONDS", 1000.0)
    voice, failures, asked = Pyttsx3Voice(), list[VoiceError](), threading.Event()

    def ask(child: object, line: str) -> None:
        asked.set()
        real_ask(child, line)

    real_ask: Any = voice._ask
    monkeypatch.setattr(voice, "_ask", ask)

    def render() -> None:
        try:
            voice.render("two")
        except VoiceError as error:
            failures.append(error)

    thread = threading.Thread(target=render)
    thread.start()
    assert asked.wait(60.0)
    voice.close()
    thread.join()
    assert len(failures) == 1
    with pytest.raises(VoiceError, match="closed"):
        voice.render("two")


def test_closing_twice_is_harmless() -> None:
    """And a closed voice has left no child and no folder."""
    voice = Pyttsx3Voice()
    voice.render("two")
    child, folder = voice._child, Path(voice._folder.name)
    voice.close()
    voice.close()
    assert child is not None
    assert child.returncode is not None
    assert not folder.exists()


@pytest.mark.skipif(sys.platform != "linux", reason="other systems have their own synthesisers")
def test_pip_alone_brings_a_synthesiser(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the system has no libespeak-ng, the bundled library is loaded with its own data."""
    loaded: list[str] = []

    def load(name: str, mode: int) -> None:
        assert mode == ctypes.RTLD_GLOBAL
        if name.startswith("lib"):
            raise OSError(name)
        loaded.append(name)

    monkeypatch.setattr(ctypes, "CDLL", load)
    monkeypatch.setenv("ESPEAK_DATA_PATH", "")
    speaking_child.load_library()
    assert len(loaded) == 1
    assert Path(loaded[0]).exists()
    assert Path(os.environ["ESPEAK_DATA_PATH"]).is_dir()


def test_the_default_voice_is_the_one_that_comes_with_the_tool(spoken: Pyttsx3Voice) -> None:
    """Its wheel carries it; the rate of its sound is its own 24 kHz."""
    assert spoken.render("two").rate == 24000
    assert spoken.name == "pyttsx3 heart at 130"


def test_the_same_text_is_the_same_sound(spoken: Pyttsx3Voice) -> None:
    """Nothing in it is left to chance, so that a cached prompt is what would be spoken now."""
    with Pyttsx3Voice() as other:
        assert np.array_equal(spoken.render("Left main bus.").samples, other.render("Left main bus.").samples)


def test_without_its_library_the_system_speaks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The default gives way, and its name says so; who asked for it by name is told instead."""
    (tmp_path / "hibari.py").write_text("raise ImportError('no such library')")
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    with Pyttsx3Voice() as voice:
        assert voice.render("two").seconds > 0.1
        assert voice.name == "pyttsx3 system at 130"
    with Pyttsx3Voice("heart") as voice, pytest.raises(VoiceError, match="no such library"):
        voice.render("two")
