"""The mouth: sentences, pauses, and rendering each sentence once."""

import numpy as np

from runner.session.live.prompt_mouth import PAUSE_SECONDS, Mouth, get_sentences
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


def test_a_prompt_is_cut_at_the_ends_of_its_sentences() -> None:
    """Marks stay with their sentence; a decimal is a word and cuts nothing."""
    text = "Two four decimal one volts. Flood lamps? Say again."
    assert get_sentences(text) == ("Two four decimal one volts.", "Flood lamps?", "Say again.")


def test_sentences_are_rendered_one_by_one_with_a_pause_between() -> None:
    """Each sentence can so come out of the cache."""
    voice = Tone()
    sound = Mouth(voice).render("One. Two.")
    assert voice.texts == ["One.", "Two."]
    assert len(sound.samples) == 2 * (RATE // 10) + round(PAUSE_SECONDS * RATE)


def test_an_empty_prompt_is_silent() -> None:
    """No sentence, no sound."""
    assert len(Mouth(Tone()).render("  ").samples) == 0
