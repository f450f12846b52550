"""What `eyesout mic --learn` prints after a lesson, and its arguments."""

import argparse

import pytest

from runner.command import mic
from runner.command.learn import closing_lines
from runner.voice.lesson.learned import Learned, LearnedEar, Measures
from runner.voice.lesson.trial import Tally

LEARNED = Learned(
    pilot="Ada Rook",
    device="Field Headset",
    learned_at=0.0,
    measures=Measures(-70.0, -22.0, 0, 20),
    engine="builtin",
    ears=(
        LearnedEar("builtin", "", 0.75, 0.75, Tally(17, 3, 16, 0, 0), Tally(17, 3, 16, 0, 0)),
        LearnedEar("vosk", "", 0.0, 0.5, Tally(17, 3, 13, 1, 0), Tally(17, 3, 12, 0, 0)),
    ),
    understood_late=1,
)


def test_every_ear_gets_its_line_before_the_words() -> None:
    """As it comes, with what it refused and what it took wrongly."""
    lines = closing_lines(LEARNED)
    assert "  builtin    16 of 17 answers taken, 1 asked again, 0 taken wrongly" in lines
    assert "  vosk       13 of 17 answers taken, 3 asked again, 1 taken wrongly" in lines
    assert lines[-1].endswith("Keys answer every item, always.")


def test_one_cannot_learn_and_forget_at_once(capsys: pytest.CaptureFixture[str]) -> None:
    """The command says so."""
    parser = argparse.ArgumentParser()
    mic.add_arguments(parser)
    with pytest.raises(SystemExit):
        parser.parse_args(["--learn", "--forget"])
    assert "not allowed with argument" in capsys.readouterr().err
