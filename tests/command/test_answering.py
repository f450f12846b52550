"""Answers that are said: a synthetic voice through the real ear, without a sound card."""

import io
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from runner.checklist.format.check_load import load_check
from runner.cli import main
from runner.command.answering import SpokenAnswers, SpokenLines
from runner.command.quiz import SPOKEN as QUIZ_WORDS
from runner.command.quiz import picked_choice
from runner.command.recite import SPOKEN, said_lines
from runner.drill.recited.flow_order import flow_order
from runner.drill.recited.flow_words import FlowWords
from runner.drill.recited.recitation import judge_recitation
from runner.session.engine import BUILTIN, make_recogniser
from runner.voice.mouth.pyttsx3_voice import make_pilot_voice
from runner.voice.port import Block, Recogniser, Voice
from tests.session.lessons import ScriptedBooth

SMALL = Path(__file__).parents[1] / "drill" / "recited" / "small.yaml"
SILENT_BLOCKS = 60


@pytest.fixture(scope="module")
def voice() -> Iterator[Voice]:
    """The student's."""
    with make_pilot_voice() as voice:
        yield voice


@pytest.fixture(scope="module")
def ear() -> Recogniser:
    """The shipped one."""
    return make_recogniser(BUILTIN)


class Speaking:
    """A booth in which one line after the other is said, with silence between them."""

    def __init__(self, voice: Voice, lines: list[str]) -> None:
        self._booth, self._lines = ScriptedBooth(voice), lines
        self._quiet = 0

    def next_block(self) -> Block:
        """The next line begins two seconds after the last one ended."""
        block = self._booth.next_block()
        is_loud = float(np.abs(block.samples).max()) > 0.02
        self._quiet = 0 if is_loud else self._quiet + 1
        if self._quiet >= SILENT_BLOCKS and self._lines:
            self._booth.ask(f"Say: {self._lines.pop(0)}.")
            self._quiet = 0
        return block


def test_a_flow_is_recited_by_voice(voice: Voice, ear: Recogniser) -> None:
    """Names, challenges and the author's phrases; one taken back; what is not understood excuses an item."""
    lines = [
        *("nobody near", "pitot cover", "tip tank caps", "correction", "lamp switch on", "lamp switch off"),
        *("strawberry marmalade on the veranda", "call the flow complete", "that is all"),
    ]
    check, out = load_check(SMALL), io.StringIO()
    words = FlowWords(check)
    spoken = SpokenAnswers(SpokenLines(ear, Speaking(voice, lines).next_block), out, SPOKEN)
    said = said_lines(words, spoken)
    assert said is not None
    assert [each.candidates for each in said if not each.is_doubtful] == [
        ("people",),
        ("cover",),
        ("lamp on",),
        ("lamp off",),
        ("call",),
    ]
    assert "not understood" in out.getvalue()
    found = judge_recitation(check, flow_order(check, None), said)
    assert (found.score, found.asked, found.doubtful, found.omitted) == (6, 6, ("tanks",), ())


def test_a_choice_is_said_by_its_number(voice: Voice, ear: Recogniser) -> None:
    """Three, then the way out."""
    out = io.StringIO()
    lines = Speaking(voice, ["three", "abandon check"])
    spoken = SpokenAnswers(SpokenLines(ear, lines.next_block), out, QUIZ_WORDS)
    assert picked_choice(4, spoken, out) == 2
    assert picked_choice(4, spoken, out) is None


@pytest.mark.parametrize("words", [["quiz", "merlow-ml2"], ["recite", "merlow-reserve"]])
def test_without_a_microphone_one_line_says_so(
    words: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit code 4, and nothing is kept."""
    arguments = [*words, "--listen", "--microphone", "no such thing", "--logbook", str(tmp_path)]
    assert main(arguments) == 4
    told = capsys.readouterr().err.strip()
    assert told.startswith("eyesout: ")
    assert "\n" not in told
