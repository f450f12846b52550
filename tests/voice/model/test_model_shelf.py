"""The user's own models on their shelf."""

import io
from pathlib import Path

import pytest

from runner.errors import ModelError
from runner.voice.model.fetchable import Fetchable
from runner.voice.model.model_shelf import (
    changing,
    check_all,
    check_room,
    install,
    installed_files,
    installed_models,
    remove,
)
from tests.voice.archives import FILES, NAME, listed, zipped


def put(shelf: Path, content: bytes | None = None, model: Fetchable | None = None) -> Path:
    """Install the tiny model."""
    content = content or zipped()
    with changing(shelf):
        return install(model or listed(content), io.BytesIO(content), shelf)


def test_an_installed_model_is_found_whole_with_its_licence(tmp_path: Path) -> None:
    """Every file is in the manifest as it was packed, and nothing else is on the shelf."""
    folder = put(tmp_path)
    assert installed_models(tmp_path) == {NAME: folder}
    files = installed_files(folder)
    check_all(files)
    assert {file.path.relative_to(folder).as_posix(): file.path.read_bytes() for file in files} == FILES
    assert {(file.licence, file.attribution) for file in files} == {("Apache-2.0", 'an "invented" publisher')}
    assert sorted(path.name for path in tmp_path.iterdir()) == [".lock", NAME]


@pytest.mark.parametrize("damage", [b"network", b"Network " * 4000, None])
def test_a_damaged_model_is_noticed_and_the_cure_named(tmp_path: Path, damage: bytes | None) -> None:
    """Shortened, changed in one place, or gone."""
    network = put(tmp_path) / "am" / "final.mdl"
    network.unlink()
    if damage:
        network.write_bytes(damage)
    with pytest.raises(ModelError, match=rf"final\.mdl.*; eyesout models fetch {NAME}$"):
        check_all(installed_files(network.parent.parent))


def test_installing_again_replaces_what_was_there(tmp_path: Path) -> None:
    """A damaged or older one."""
    folder = put(tmp_path)
    (folder / "am" / "final.mdl").write_bytes(b"damaged")
    (folder / "stray").write_bytes(b"x")
    put(tmp_path)
    check_all(installed_files(folder))
    assert not (folder / "stray").exists()


@pytest.mark.parametrize(
    ("content", "model", "message"),
    [
        (zipped({"README": b"x"}), None, "holds no Vosk model"),
        (zipped({**FILES, "manifest.toml": b"x"}), None, "holds no Vosk model"),
        (zipped({**FILES, "am/more": bytes(1_000_000)}), None, "more than a model of its size"),
        (zipped(), listed(zipped({"am/final.mdl": b"another"})), "this is not vosk-model-tiny-1.0.zip"),
    ],
)
def test_what_is_no_model_leaves_the_old_one_and_nothing_else(
    tmp_path: Path, content: bytes, model: Fetchable | None, message: str
) -> None:
    """Refused as a whole."""
    folder = put(tmp_path)
    with pytest.raises(ModelError, match=message):
        put(tmp_path, content, model)
    check_all(installed_files(folder))
    assert sorted(path.name for path in tmp_path.iterdir()) == [".lock", NAME]


def test_what_an_interrupted_change_left_is_no_model_and_is_cleared(tmp_path: Path) -> None:
    """A half-made folder is never listed; the next change takes it away."""
    put(tmp_path).rename(tmp_path / ".aside-x")
    assert installed_models(tmp_path) == {}
    with changing(tmp_path):
        assert [path.name for path in tmp_path.iterdir()] == [".lock"]


def test_a_removed_model_is_gone_and_an_unknown_one_is_named(tmp_path: Path) -> None:
    """No name reaches outside the shelf."""
    put(tmp_path)
    with changing(tmp_path):
        assert remove(NAME, tmp_path) == tmp_path / NAME
        assert [path.name for path in tmp_path.iterdir()] == [".lock"]
        for name in (NAME, "..", "../x", ""):
            with pytest.raises(ModelError, match="is not installed; installed: none"):
                remove(name, tmp_path)


def test_two_changes_at_once_are_refused(tmp_path: Path) -> None:
    """The second says so, and does not wait."""
    with (
        changing(tmp_path),
        pytest.raises(ModelError, match="another eyesout is changing"),
        changing(tmp_path),
    ):
        pass


def test_a_full_disk_is_noticed_before_anything_is_fetched(tmp_path: Path) -> None:
    """What is needed and what is free."""
    check_room(tmp_path, 1)
    with pytest.raises(ModelError, match=r"1000000000 MB are needed, \d+ MB are free"):
        check_room(tmp_path, 10**15)


def test_a_shelf_that_cannot_be_written_is_one_line(tmp_path: Path) -> None:
    """Here a file lies where the folder should be."""
    (tmp_path / "shelf").write_bytes(b"")
    with pytest.raises(ModelError, match="shelf: File exists"), changing(tmp_path / "shelf"):
        pass
