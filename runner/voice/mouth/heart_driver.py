"""A driver that pyttsx3 loads: speaks by the library hibari with the one voice that its wheel carries.

pyttsx3 stays the one mouth; this file stands among its drivers under the name `heart`, the voice's own.
It runs in the program of `speaking_child.py` and imports nothing of the rest of the package.
"""

import wave
from pathlib import Path
from typing import Any, Final

NAME: Final = "heart"
"""The voice that lies in the wheel. Others would be fetched from the internet: they are never asked for."""
OWN_WORDS_A_MINUTE: Final = 152
"""How fast it speaks by itself: running text of this tool's prompts, measured."""
SLOWEST, FASTEST = 0.5, 2.0
"""Speeds that the network was made for."""
SEED: Final = 0
"""Of the breath in the voice: the same text is the same sound."""
SAYINGS: Final = {"pitot": "p\u02c8itO"}
"""Words that it would say in another way, in the phones of its own alphabet: PEE-toh."""


class HeartDriver:
    """What pyttsx3 asks of a driver; it renders to files only."""

    def __init__(self, proxy: Any) -> None:  # noqa: ANN401 - pyttsx3 ships no types
        from hibari import Hibari  # noqa: PLC0415 - half a second, wanted only where this voice speaks

        self._proxy = proxy
        self._speaker = Hibari(voice=NAME)
        self._rate = OWN_WORDS_A_MINUTE

    def destroy(self) -> None:
        """Nothing is held."""

    def startLoop(self) -> None:  # noqa: N802 - pyttsx3's name
        """Work off the queue, which ends with the loop's own end."""
        self._proxy.setBusy(False)

    def endLoop(self) -> None:  # noqa: N802 - pyttsx3's name
        """The queue is empty."""

    def stop(self) -> None:
        """A file is written whole."""

    def getProperty(self, name: str) -> object:  # noqa: N802 - pyttsx3's name
        """`voice` or `rate`; KeyError for any other."""
        return {"voice": NAME, "rate": self._rate}[name]

    def setProperty(self, name: str, value: Any) -> None:  # noqa: ANN401, N802 - pyttsx3's name
        """`rate`, in words a minute; KeyError for any other."""
        if name != "rate":
            raise KeyError(name)
        self._rate = int(value)

    def save_to_file(self, text: str, filename: str) -> None:
        """Write the spoken text as a WAV file, 16 bits at the voice's own rate."""
        self._proxy.setBusy(True)
        speed = min(FASTEST, max(SLOWEST, self._rate / OWN_WORDS_A_MINUTE))
        samples = self._speaker(_as_said(text), speed=speed, seed=SEED)
        with wave.open(str(Path(filename)), "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(self._speaker.sample_rate)
            file.writeframes((samples.clip(-1.0, 1.0) * 32767.0).astype("<i2").tobytes())
        self._proxy.notify("finished-utterance", completed=True)
        self._proxy.setBusy(False)


def buildDriver(proxy: Any) -> HeartDriver:  # noqa: ANN401, N802 - pyttsx3's name
    """What pyttsx3 calls."""
    return HeartDriver(proxy)


def _as_said(text: str) -> str:
    """The text with the words of SAYINGS spelled out; square brackets, which the library reads, are gone."""
    words = text.translate({ord("["): " ", ord("]"): " "}).split()
    return " ".join(_spelled(word) for word in words)


def _spelled(word: str) -> str:
    bare = word.strip(".,;:!?")
    phones = SAYINGS.get(bare.lower())
    return word if phones is None else word.replace(bare, f"[{bare}](/{phones}/)", 1)
