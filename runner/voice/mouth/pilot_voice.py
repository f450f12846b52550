"""The scripted pilot's voice: unlike the tool's own, so that a listener can tell who speaks."""

from runner.voice.mouth.pyttsx3_voice import Pyttsx3Voice

PILOT_VOICE = "en-us+f3"
"""An espeak-ng voice with a variant."""
PILOT_RATE = 140
"""Words a minute."""


def make_pilot_voice(voice: str = PILOT_VOICE, rate: int = PILOT_RATE) -> Pyttsx3Voice:
    """A voice for a script's lines; close it after use."""
    return Pyttsx3Voice(voice, rate)
