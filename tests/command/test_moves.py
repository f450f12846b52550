"""The sentence at the end of a run: about what moved, silent while nothing did."""

from pathlib import Path

import pytest

from runner.command.moves import moves_of
from runner.logbook.invented.synthetic import InventedAirplane, Recipe, Story, write_history
from runner.logbook.record.run_store import Logbook
from runner.session.parts import load_parts


def _moves(folder: Path, story: Story) -> str:
    """Of an invented airplane with half a year of such a history."""
    parts = load_parts("tarn-reserve")
    airplane = InventedAirplane(parts.check.airplane, "QQ-TN1", parts.check_text, parts.airplane_text)
    with Logbook.open(folder) as logbook:
        write_history(logbook, parts.check, airplane, Recipe(story, 7, runs=32))
        return moves_of(logbook, "QQ-TN1")


def test_a_failing_gyro_is_told_in_one_sentence(tmp_path: Path) -> None:
    """Ten percent a month over twelve weeks has moved."""
    sentence = _moves(tmp_path, Story.FAILING_GYRO)
    assert sentence.endswith(".")
    assert "gyro" in sentence.lower() or "turn" in sentence.lower()


@pytest.mark.parametrize("registration", ["QQ-TN1", "QQ-ML2"])
def test_an_airplane_without_runs_has_no_sentence(tmp_path: Path, registration: str) -> None:
    """The end of a run is not spoilt by what cannot be read."""
    with Logbook.open(tmp_path) as logbook:
        assert moves_of(logbook, registration) == ""
