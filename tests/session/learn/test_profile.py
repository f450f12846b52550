"""What is kept of a lesson, for whom, and when it is used."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from runner.errors import ModelError
from runner.session.engine import fingerprint
from runner.session.learn.profile import EarChoice, choose_ear, forget_learned, keep_learned, load_learned
from runner.voice.lesson.learned import Learned, LearnedEar, Measures
from runner.voice.lesson.trial import Tally

TALLY = Tally(17, 3, 12, 0, 0)
LEARNED = Learned(
    pilot="Ada Rook",
    device="Field Headset (hw:1,0)",
    learned_at=1796280000.0,  # 2026-12-03
    measures=Measures(-70.0, -22.0, 0, 20),
    engine="builtin",
    ears=(LearnedEar("builtin", fingerprint("builtin"), 0.75, 0.61, TALLY, TALLY),),
    understood_late=2,
    heard_wrong=('"lit" as "out"',),
)


def test_what_was_learned_comes_back_as_it_was(tmp_path: Path) -> None:
    """And a second lesson takes the first one's place."""
    keep_learned(tmp_path, LEARNED)
    assert load_learned(tmp_path, LEARNED.pilot, LEARNED.device) == LEARNED
    later = replace(LEARNED, learned_at=1796290000.0)
    path = keep_learned(tmp_path, later)
    assert load_learned(tmp_path, LEARNED.pilot, LEARNED.device) == later
    assert list(tmp_path.iterdir()) == [path]


def test_it_is_for_one_pilot_on_one_device(tmp_path: Path) -> None:
    """Anyone else, or anything else, has nothing; case, spaces and ALSA's number do not matter."""
    keep_learned(tmp_path, LEARNED)
    assert load_learned(tmp_path, " ada  ROOK ", "Field Headset (hw:3,0)") == LEARNED
    assert load_learned(tmp_path, "", LEARNED.device) is None
    assert load_learned(tmp_path, "Ada Rook", "Built-in Microphone") is None


def test_a_run_uses_it_and_says_so(tmp_path: Path) -> None:
    """Engine and threshold, with who, where and when."""
    keep_learned(tmp_path, LEARNED)
    choice = choose_ear("", "Ada Rook", LEARNED.device, tmp_path)
    assert choice == EarChoice(
        "builtin",
        0.61,
        "using what was learned of Ada Rook on Field Headset (hw:1,0), 2026-12-03: ear builtin",
    )


def test_an_ear_given_by_hand_wins(tmp_path: Path) -> None:
    """With its own threshold, and without a word."""
    keep_learned(tmp_path, LEARNED)
    assert choose_ear("vosk", "Ada Rook", LEARNED.device, tmp_path) == EarChoice("vosk")
    assert choose_ear("builtin", "Ada Rook", LEARNED.device, tmp_path) == EarChoice("builtin")


def test_without_a_lesson_nothing_changes(tmp_path: Path) -> None:
    """The built-in ear as it comes."""
    assert choose_ear("", "Ada Rook", LEARNED.device, tmp_path / "nowhere") == EarChoice("builtin")


def test_a_lesson_of_another_network_is_left_aside_with_one_line(tmp_path: Path) -> None:
    """A threshold means nothing to an ear that it was not learned with."""
    ear = replace(LEARNED.ear, fingerprint="0123456789ab")
    keep_learned(tmp_path, replace(LEARNED, ears=(ear,)))
    choice = choose_ear("", "Ada Rook", LEARNED.device, tmp_path)
    assert (choice.engine, choice.threshold) == ("builtin", None)
    assert choice.notice.endswith("was of another ear; learn again with `eyesout mic --learn`")


def test_a_lesson_of_an_ear_that_is_gone_is_left_aside_with_one_line(tmp_path: Path) -> None:
    """A Vosk folder that was deleted since."""
    engine = f"vosk:{tmp_path / 'gone'}"
    ear = replace(LEARNED.ear, engine=engine)
    keep_learned(tmp_path, replace(LEARNED, engine=engine, ears=(ear,)))
    choice = choose_ear("", "Ada Rook", LEARNED.device, tmp_path)
    assert (choice.engine, choice.threshold) == ("builtin", None)
    assert choice.notice.endswith("not used; learn again with `eyesout mic --learn`")


@pytest.mark.parametrize("change", ["text", "version", "threshold", "engine", "key"])
def test_a_damaged_file_keeps_no_run_from_beginning(tmp_path: Path, change: str) -> None:
    """One line names it, and the built-in ear listens as it comes."""
    path = keep_learned(tmp_path, LEARNED)
    given = json.loads(path.read_text())
    if change == "threshold":
        given["ears"][0]["threshold"] = 7.0
    elif change == "key":
        del given["measures"]["sayings"]
    else:
        given[change] = "other"
    path.write_text("{" if change == "text" else json.dumps(given))
    with pytest.raises(ModelError, match="cannot be read"):
        load_learned(tmp_path, "Ada Rook", LEARNED.device)
    choice = choose_ear("", "Ada Rook", LEARNED.device, tmp_path)
    assert (choice.engine, choice.threshold) == ("builtin", None)
    assert str(path) in choice.notice


def test_it_can_be_forgotten(tmp_path: Path) -> None:
    """Once; there is nothing to forget after that."""
    keep_learned(tmp_path, LEARNED)
    assert forget_learned(tmp_path, "Ada Rook", LEARNED.device)
    assert not forget_learned(tmp_path, "Ada Rook", LEARNED.device)
    assert load_learned(tmp_path, "Ada Rook", LEARNED.device) is None


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    """A file stands in its place."""
    (tmp_path / "taken").write_text("")
    with pytest.raises(ModelError, match="could not be kept"):
        keep_learned(tmp_path / "taken", LEARNED)
