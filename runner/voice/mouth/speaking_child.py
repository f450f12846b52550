"""A program of its own that speaks text into WAV files, since pyttsx3 allows one engine a process.

It gets the voice and the rate as arguments, then one JSON line a prompt, `{"text": ..., "path": ...}`,
and answers each with `{"error": null}` or what went wrong. It imports nothing of the rest of the package.
"""

import contextlib
import ctypes
import importlib.util
import json
import os
import sys
import tempfile
import threading
from pathlib import Path
from typing import Any

PATIENCE_SECONDS = 10.0
"""No prompt takes so long to render."""
HEART = "heart"
"""The voice that comes with the tool, by a driver of our own."""
SYSTEM = "system"
"""The system's own voice, by pyttsx3's own drivers; any other name is one of its voices."""
INSTALL = "pip install espeakng-loader, or apt install libespeak-ng1"


def load_library() -> None:
    """Make an espeak-ng library known to the process: the system's own, else the one that pip brings."""
    if sys.platform != "linux":
        return
    # Sound is only written to files here, yet the library looks for a sound server: it would leave
    # folders of PulseAudio in the user's home, and a server of the user's may be on another computer.
    os.environ["PULSE_SERVER"] = "unix:/dev/null"
    try:
        ctypes.CDLL("libespeak-ng.so.1", ctypes.RTLD_GLOBAL)
    except OSError:
        with contextlib.suppress(ImportError, OSError, RuntimeError):
            _load_bundled()


def _load_bundled() -> None:
    import espeakng_loader  # noqa: PLC0415 - wanted only where the system has no library

    os.environ["ESPEAK_DATA_PATH"] = espeakng_loader.get_data_path()
    ctypes.CDLL(espeakng_loader.get_library_path(), ctypes.RTLD_GLOBAL)


class Engine:
    """The one engine of this process."""

    def __init__(self, voice: str, rate: int) -> None:
        import pyttsx3  # noqa: PLC0415 - the library must be loaded before

        self._errors: list[str] = []
        self._finished = threading.Event()
        self._engine: Any = pyttsx3.init(_own_driver() if voice == HEART else None)
        self._engine.connect("finished-utterance", lambda **_: self._finished.set())
        self._has_espeak = _keep_from_cancelling()
        self._engine.connect("error", lambda exception, **_: self._errors.append(str(exception)))
        if voice not in (HEART, SYSTEM):
            self._engine.setProperty("voice", voice)
        with tempfile.TemporaryDirectory() as folder:
            for word in ("one", "two"):  # espeak keeps the old rate for the first words after a change
                self._engine.setProperty("rate", rate)
                self.speak(word, str(Path(folder) / "warm.wav"))

    def speak(self, text: str, path: str) -> None:
        """Write the spoken text to a sound file."""
        self._errors.clear()
        self._finished.clear()
        self._engine.save_to_file(text, path)
        self._engine.runAndWait()
        if self._has_espeak:  # there, runAndWait may return while the library's own thread still works
            self._finished.wait(PATIENCE_SECONDS)
        if self._errors:
            raise RuntimeError(self._errors[0])
        if not Path(path).exists():
            raise RuntimeError("the synthesiser wrote no sound")


def _own_driver() -> str:
    """Put heart_driver.py among pyttsx3's drivers; gives the name that it stands there under."""
    name = f"pyttsx3.drivers.{HEART}"
    path = Path(__file__).with_name("heart_driver.py")
    spec = importlib.util.spec_from_file_location(name, path)
    if spec is None or spec.loader is None:
        raise RuntimeError(f"{path} is missing")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    sys.modules[name] = module
    return HEART


def _keep_from_cancelling() -> bool:
    """Whether pyttsx3 speaks by espeak-ng; if so, keep it from cutting the next text short.

    At the end of each loop it asks whether the library is busy, and if so cancels whatever comes next.
    """
    espeak: Any = sys.modules.get("pyttsx3.drivers._espeak")
    if espeak is not None:
        espeak.IsPlaying = lambda: 0
    return espeak is not None


def main() -> None:
    """Serve until the input ends."""
    replies = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)  # pyttsx3 prints

    def reply(error: str | None) -> None:
        replies.write(json.dumps({"error": error}) + "\n")
        replies.flush()

    os.environ["ORT_DISABLE_TELEMETRY"] = "1"  # read when onnxruntime is imported
    try:
        if sys.argv[1] != HEART:
            load_library()
        engine = Engine(sys.argv[1], int(sys.argv[2]))
    except Exception as error:  # noqa: BLE001 - whatever a platform's driver raises is told to the parent
        reply(f"{' '.join(str(error).split()) or type(error).__name__}; {INSTALL}")
        return
    reply(None)
    for line in sys.stdin:
        request = json.loads(line)
        try:
            engine.speak(request["text"], request["path"])
        except Exception as error:  # noqa: BLE001 - as above
            reply(str(error))
        else:
            reply(None)


if __name__ == "__main__":
    main()
