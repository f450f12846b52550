"""Where checks and airplanes are looked for, and what a check has to call an airplane of its own."""

import shutil
from pathlib import Path

import pytest

from runner.errors import FileError, UsageError
from runner.place import data_folder
from runner.session.data_file import airplane_words, find_airplane, find_check
from runner.session.parts import load_parts

AIRPLANE = data_folder("checklists") / "airplanes" / "merlow-ml2.yaml"
CHECK = (data_folder("checklists") / "merlow-reserve.yaml").read_text(encoding="utf-8")


def _check(folder: Path, airplane: str) -> Path:
    path = folder / "my check.yaml"
    path.write_text(CHECK.replace("airplane: merlow-ml2", f"airplane: {airplane}"), encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("place", "name"),
    [
        ("mine.yaml", "mine"),
        ("airplanes/mine.yaml", "mine"),
        ("my fleet/mine.yaml", "my fleet/mine.yaml"),
        ("my fleet/mine.yaml", "./my fleet/mine.yaml"),
    ],
)
def test_an_airplane_is_found_beside_its_check(tmp_path: Path, place: str, name: str) -> None:
    """By name beside it or in the folder `airplanes` there, by path from the check's own folder."""
    own = tmp_path / place
    own.parent.mkdir(exist_ok=True)
    shutil.copy(AIRPLANE, own)
    parts = load_parts(str(_check(tmp_path, name)))
    assert parts.airplane is not None
    assert parts.airplane.name == "mine"
    assert parts.airplane.path.resolve() == own.resolve() or parts.airplane_text == own.read_text()


def test_a_file_beside_the_check_goes_before_a_shipped_one(tmp_path: Path) -> None:
    """A copy under its old name is the one that its owner means."""
    (tmp_path / "merlow-ml2.yaml").write_text(
        AIRPLANE.read_text(encoding="utf-8").replace("title: Merlow", "title: My Merlow"), encoding="utf-8"
    )
    assert load_parts(str(_check(tmp_path, "merlow-ml2"))).airplane_title.startswith("My Merlow")


def test_an_airplane_that_is_nowhere_is_told_at_its_line_with_where_it_was_looked_for(tmp_path: Path) -> None:
    """The check's line, both folders beside it, and the shipped one."""
    path = _check(tmp_path, "mine")
    with pytest.raises(FileError) as caught:
        load_parts(str(path))
    assert str(caught.value).startswith(
        f'{path}:5:11: no airplane "mine"; known: merlow-ml2, pellow-jv62, tarn-qx83. '
    )
    assert f"Looked for mine.yaml in {tmp_path}, {tmp_path / 'airplanes'}, {AIRPLANE.parent}" in str(
        caught.value
    )


def test_a_check_is_no_airplane_of_its_own(tmp_path: Path) -> None:
    """A check that is called like its airplane does not find itself."""
    path = tmp_path / "merlow-ml2.yaml"
    path.write_text(CHECK, encoding="utf-8")
    assert find_airplane("merlow-ml2", path) == AIRPLANE


def test_a_pilot_file_finds_the_check_beside_it(tmp_path: Path) -> None:
    """By its name; elsewhere the same name is unknown."""
    own = tmp_path / "mine.yaml"
    own.write_text(CHECK, encoding="utf-8")
    assert find_check("mine", tmp_path / "pilot.yaml") == own
    with pytest.raises(UsageError, match=r"Looked for mine\.yaml in"):
        find_check("mine")


@pytest.mark.parametrize(
    ("airplane", "check", "words"),
    [
        ("mine.yaml", "my-check.yaml", "mine"),
        ("airplanes/mine.yaml", "my-check.yaml", "mine"),
        ("my fleet/mine.yaml", "my-check.yaml", "my fleet/mine.yaml"),
        ("mine.yaml", "checks/my-check.yaml", "../mine.yaml"),
        ("merlow-ml2.yaml", "checks/my-check.yaml", "../merlow-ml2.yaml"),
    ],
)
def test_a_derived_check_names_its_airplane_so_that_it_is_found(
    tmp_path: Path, airplane: str, check: str, words: str
) -> None:
    """By name where that leads to this very file, else by a path from the check."""
    for place in (airplane, check):
        (tmp_path / place).parent.mkdir(exist_ok=True)
    own = Path(shutil.copy(AIRPLANE, tmp_path / airplane))
    assert airplane_words(own, tmp_path / check) == words
    assert find_airplane(words, tmp_path / check).resolve() == own
