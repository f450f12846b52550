"""The driver that pyttsx3 loads: what it says, and how words are spelled out for it."""

from pathlib import Path

import pytest

from runner.voice.mouth.heart_driver import HeartDriver, _as_said


class Proxy:
    """Takes what a driver tells pyttsx3."""

    def __init__(self) -> None:
        self.told: list[object] = []

    def setBusy(self, busy: bool) -> None:  # noqa: FBT001, N802 - pyttsx3's name
        """Keep it."""
        self.told.append(busy)

    def notify(self, topic: str, *, completed: bool) -> None:
        """Keep it."""
        self.told.append((topic, completed))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Left pitot heat on.", "Left [pitot](/p\u02c8itO/) heat on."),
        ("Pitot, off", "[Pitot](/p\u02c8itO/), off"),
        ("Two four decimal six volts.", "Two four decimal six volts."),
        ("see [here](/x/)", "see here (/x/)"),
    ],
)
def test_trade_words_are_spelled_out_and_nothing_else_is(text: str, said: str) -> None:
    """PEE-toh (Merriam-Webster, from memory); a check's own brackets mean nothing to the voice."""
    assert _as_said(text) == said


def test_an_unknown_property_is_refused() -> None:
    """Only the rate can be set; pyttsx3 tells of the error."""
    driver = HeartDriver(Proxy())
    driver.setProperty("rate", 120)
    assert driver.getProperty("rate") == 120
    assert driver.getProperty("voice") == "heart"
    with pytest.raises(KeyError, match="volume"):
        driver.setProperty("volume", 1.0)


def test_a_file_is_written_before_it_is_told(tmp_path: Path) -> None:
    """Busy, finished, idle: in this order."""
    proxy = Proxy()
    HeartDriver(proxy).save_to_file("two", str(tmp_path / "two.wav"))
    assert proxy.told == [True, ("finished-utterance", True), False]
