"""The mouth: sentences, pauses, and rendering each sentence once."""

import numpy as np

from runner.language.breath import PAUSE_SECONDS, Passage
from runner.session.live.prompt_mouth import Mouth
from runner.voice.port import RATE, Sound


class Tone:
    """A voice that counts: a tenth of a second for each sentence."""

    name = "tone"

    def __init__(self) -> None:
        self.texts: list[str] = []

    def render(self, text: str) -> Sound:
        """Remember the text."""
        self.texts.append(text)
        return Sound(np.ones(RATE // 10, np.float32), RATE)


def test_sentences_are_rendered_one_by_one_with_a_pause_between() -> None:
    """Each sentence can so come out of the cache."""
    voice = Tone()
    sound = Mouth(voice).render("One. Two.")
    assert voice.texts == ["One.", "Two."]
    assert len(sound.samples) == 2 * (RATE // 10) + round(PAUSE_SECONDS * RATE)


def test_an_empty_prompt_is_silent() -> None:
    """No sentence, no sound."""
    assert len(Mouth(Tone()).render("  ").samples) == 0


def test_read_backs_go_to_the_voice_that_is_paced_for_them() -> None:
    """Only these sentences; prepared ones as well."""
    running, slow = Tone(), Tone()
    mouth = Mouth(running, slow)
    mouth.render("Squawk, left out. Volts.", ("Squawk, left out.",))
    assert (slow.texts, running.texts) == (["Squawk, left out."], ["Volts."])
    mouth.prepare([Passage("Caution, dim.", is_read_back=True), Passage("Lamps.")])
    assert (slow.texts[1:], running.texts[1:]) == (["Caution, dim."], ["Lamps."])
