"""Unpacking real zip files: good ones come out byte for byte, bad ones leave nothing anywhere."""

import hashlib
import io
import stat
import zipfile
from pathlib import Path

import pytest

from runner.errors import ModelError
from runner.voice.model.unpack import MAX_FILES, unpack
from tests.voice.archives import FILES, NAME, zipped

MAX = 1_000_000


def everything(folder: Path) -> dict[str, bytes]:
    """All files below it."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def packed(*entries: tuple[str | zipfile.ZipInfo, bytes]) -> bytes:
    """A zip with exactly these entries."""
    memory = io.BytesIO()
    with zipfile.ZipFile(memory, "w") as archive:
        for name, content in entries:
            archive.writestr(name, content)
    return memory.getvalue()


def of_kind(kind: int) -> zipfile.ZipInfo:
    """An entry that says it is no ordinary file."""
    entry = zipfile.ZipInfo("model/am")
    entry.external_attr = (kind | 0o777) << 16
    return entry


@pytest.mark.parametrize("root", [f"{NAME}/", "", "any/"])
def test_files_come_out_byte_for_byte_without_the_folder_around_them(tmp_path: Path, root: str) -> None:
    """With or without one folder around them all, and with the hashes of what was written."""
    files = unpack(io.BytesIO(zipped(root=root)), tmp_path, MAX)
    assert everything(tmp_path) == FILES
    assert {file.path: file.sha256 for file in files} == {
        path: hashlib.sha256(content).hexdigest() for path, content in FILES.items()
    }
    assert sum(file.size_bytes for file in files) == sum(map(len, FILES.values()))


def test_a_single_file_is_not_taken_for_a_folder_around_them(tmp_path: Path) -> None:
    """It keeps its name."""
    unpack(io.BytesIO(zipped({"README": b"x"}, root="")), tmp_path, MAX)
    assert everything(tmp_path) == {"README": b"x"}


@pytest.mark.parametrize(
    "name",
    [
        "../out",
        "model/../../out",
        "/out",
        "//host/out",
        "C:/out",
        "C:out",
        "..\\out",
        "model\\..\\..\\out",
        "./out",
    ],
)
def test_a_path_that_leads_elsewhere_is_refused(tmp_path: Path, name: str) -> None:
    """In Unix's and in Windows's way of writing, behind a good file, and before anything is written."""
    folder = tmp_path / "in" / "model"
    with pytest.raises(ModelError, match="which no model may hold; nothing was installed"):
        unpack(io.BytesIO(packed(("model/am/final.mdl", b"x"), (name, b"evil"))), folder, MAX)
    assert everything(tmp_path) == {}


@pytest.mark.parametrize("kind", [stat.S_IFLNK, stat.S_IFIFO, stat.S_IFCHR])
def test_links_and_devices_are_refused(tmp_path: Path, kind: int) -> None:
    """A link could lead the next file out of the folder."""
    with pytest.raises(ModelError, match="which no model may hold"):
        unpack(io.BytesIO(packed((of_kind(kind), b"/etc"), ("model/am/passwd", b"x"))), tmp_path, MAX)
    assert everything(tmp_path) == {}


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize("second", ["model/am/final.mdl", "model/AM/final.mdl"])
def test_a_file_that_comes_twice_is_refused(tmp_path: Path, second: str) -> None:
    """Also one that differs in case only: some file systems see one file."""
    with pytest.raises(ModelError, match="a file twice"):
        unpack(io.BytesIO(packed(("model/am/final.mdl", b"x"), (second, b"y"))), tmp_path, MAX)


def test_an_archive_that_grows_without_bound_is_refused(tmp_path: Path) -> None:
    """By its bytes, and by its number of files."""
    memory = io.BytesIO()
    with zipfile.ZipFile(memory, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("model/zeros", bytes(MAX + 1))
    assert len(memory.getvalue()) < MAX // 100
    with pytest.raises(ModelError, match=f"to 1 files and {MAX + 1} bytes"):
        unpack(memory, tmp_path, MAX)
    many = packed(*((f"model/{number}", b"") for number in range(MAX_FILES + 1)))
    with pytest.raises(ModelError, match=f"to {MAX_FILES + 1} files"):
        unpack(io.BytesIO(many), tmp_path, MAX)
    assert everything(tmp_path) == {}


def test_an_encrypted_archive_is_refused(tmp_path: Path) -> None:
    """Bit 0 of the general purpose flag (PKWARE APPNOTE 4.4.4), set here in both headers."""
    content = bytearray(packed(("model/am", b"x")))
    content[6] |= 1
    content[content.index(b"PK\x01\x02") + 8] |= 1
    with pytest.raises(ModelError, match="which no model may hold"):
        unpack(io.BytesIO(bytes(content)), tmp_path, MAX)


@pytest.mark.parametrize("damage", ["cut", "changed", "text"])
def test_a_damaged_archive_is_said_to_be_one(tmp_path: Path, damage: str) -> None:
    """Cut short, a byte of a file changed, or no zip at all."""
    content = bytearray(packed(("model/am", b"network" * 100)))
    content[content.index(b"network") + 3] ^= 1
    damaged = {"cut": zipped()[:-30], "changed": bytes(content), "text": b"<html>log in</html>"}[damage]
    with pytest.raises(ModelError, match="the archive is damaged"):
        unpack(io.BytesIO(damaged), tmp_path, MAX)


def test_a_file_where_a_folder_is_wanted_is_refused(tmp_path: Path) -> None:
    """The archive contradicts itself."""
    with pytest.raises(ModelError, match="cannot unpack into"):
        unpack(io.BytesIO(packed(("model/am", b"x"), ("model/am/final.mdl", b"y"))), tmp_path, MAX)
