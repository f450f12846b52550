"""A voice through pyttsx3, which renders in a child process: it can neither print on us nor hang us."""

import contextlib
import json
import subprocess
import sys
import tempfile
import threading
from pathlib import Path
from types import TracebackType
from typing import IO, Final, Self

import numpy as np

from runner.errors import VoiceError
from runner.voice.mouth import speaking_child
from runner.voice.mouth.speaking_child import HEART, SYSTEM
from runner.voice.port import RATE, Sound
from runner.voice.sound import read_sound, trim

RATE_WORDS_A_MINUTE: Final = 130
"""The default rate; `pace` slows numbers and read-backs further."""
PATIENCE_SECONDS: Final = 20.0
"""A child that says nothing for so long is ended."""


PILOT_VOICE = "en-us+f3"
"""An espeak-ng voice with a variant."""
PILOT_RATE = 140
"""Words a minute."""


class Pyttsx3Voice:
    """One voice at one rate; the child is started at the first prompt and serves until `close`.

    HEART, the default, gives way to SYSTEM where its library cannot be loaded.
    """

    def __init__(self, voice: str = "", rate: int = RATE_WORDS_A_MINUTE) -> None:
        self._voice, self._rate = voice or HEART, rate
        self._may_give_way = not voice
        self._child: subprocess.Popen[str] | None = None
        self._folder = tempfile.TemporaryDirectory(prefix="eyesout-voice-", ignore_cleanup_errors=True)
        self._lock = threading.Lock()
        self._is_closed = False

    @property
    def name(self) -> str:
        """The voice and its rate; it changes when the default gives way."""
        return f"pyttsx3 {self._voice} at {self._rate}"

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def render(self, text: str) -> Sound:
        """Speak into memory, silence trimmed from both ends; text without a letter or digit is silent."""
        if not any(character.isalnum() for character in text):
            return Sound(np.zeros(0, np.float32), RATE)
        path = Path(self._folder.name) / "prompt.wav"
        with self._lock:
            if self._is_closed:
                raise VoiceError("the speech synthesiser is closed")
            child = self._child or self._start_some()
            path.unlink(missing_ok=True)
            self._ask(child, json.dumps({"text": text, "path": str(path)}))
            return trim(read_sound(path))

    def close(self) -> None:
        """End the child, for good; one that hangs in a prompt lets go of it that way."""
        self._is_closed = True
        child = self._child
        if child is not None:
            child.kill()
        with self._lock:
            self._stop()
        self._folder.cleanup()

    def _start_some(self) -> "subprocess.Popen[str]":
        try:
            return self._start()
        except VoiceError:
            self._stop()
            if not self._may_give_way:
                raise
        self._voice, self._may_give_way = SYSTEM, False
        return self._start()

    def _start(self) -> "subprocess.Popen[str]":
        # -P keeps this folder off the child's path, where our module names would hide the libraries'.
        command = [sys.executable, "-P", speaking_child.__file__, self._voice, str(self._rate)]
        child = subprocess.Popen(  # noqa: S603 - our own program, by its full path
            command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            encoding="utf-8",
        )
        self._child = child
        self._await_reply(child)
        return child

    def _ask(self, child: "subprocess.Popen[str]", line: str) -> None:
        with contextlib.suppress(OSError):  # a child that is gone shows by the missing reply
            pipe = _get_pipe(child.stdin)
            pipe.write(line + "\n")
            pipe.flush()
        self._await_reply(child)

    def _await_reply(self, child: "subprocess.Popen[str]") -> None:
        """Wait for one line; VoiceError when it is an error, or does not come."""
        limit = threading.Timer(PATIENCE_SECONDS, child.kill)
        limit.start()
        try:
            line = _get_pipe(child.stdout).readline()
        finally:
            limit.cancel()
            limit.join()
        if not line:
            self._stop()
            raise VoiceError(f"the speech synthesiser stopped; {speaking_child.INSTALL}")
        error = json.loads(line)["error"]
        if error:
            raise VoiceError(f"cannot speak: {error}")

    def _stop(self) -> None:
        child, self._child = self._child, None
        if child is None:
            return
        child.kill()  # it holds nothing that needs an orderly end
        for pipe in (child.stdin, child.stdout):
            with contextlib.suppress(OSError):  # a line for the dead child may still wait in it
                _get_pipe(pipe).close()
        child.wait()


def _get_pipe(pipe: IO[str] | None) -> IO[str]:
    if pipe is None:
        raise VoiceError("the speech synthesiser has no pipe; start again")
    return pipe


def make_pilot_voice(voice: str = PILOT_VOICE, rate: int = PILOT_RATE) -> Pyttsx3Voice:
    """A scripted pilot's voice, unlike the tool's own, so that a listener can tell who speaks; close it."""
    return Pyttsx3Voice(voice, rate)
