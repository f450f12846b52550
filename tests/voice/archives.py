"""A model as small as it can be, as a zip file and as an entry of the list of models."""

import hashlib
import io
import zipfile
from collections.abc import Mapping

from runner.voice.model.fetchable import Fetchable

NAME = "vosk-model-tiny-1.0"
FILES: Mapping[str, bytes] = {
    "am/final.mdl": b"network " * 4000,
    "conf/model.conf": b"--min-active=200\n",
    "graph/phones/word_boundary.int": b"1 nonword\n",
    "README": "Für die Prüfung".encode(),
}


def zipped(files: Mapping[str, bytes] = FILES, root: str = f"{NAME}/") -> bytes:
    """The files as a zip, folders too; the same bytes each time, as nothing in it is dated."""
    memory = io.BytesIO()
    with zipfile.ZipFile(memory, "w") as archive:
        folders = {f"{root}{path.rsplit('/', 1)[0]}/" for path in files if "/" in path}
        for folder in sorted(folders | ({root} if root else set())):
            archive.writestr(zipfile.ZipInfo(folder), b"")
        for path, content in files.items():
            archive.writestr(zipfile.ZipInfo(root + path), content, zipfile.ZIP_DEFLATED)
    return memory.getvalue()


def listed(content: bytes, url: str = "https://127.0.0.1/tiny.zip", name: str = NAME) -> Fetchable:
    """The archive as the list would pin it."""
    unpacked = sum(map(len, FILES.values()))
    digest = hashlib.sha256(content).hexdigest()
    return Fetchable(
        name, url, len(content), unpacked, digest, "Apache-2.0", 'an "invented" publisher', "tests"
    )


def as_toml(model: Fetchable) -> str:
    """The entry in the list."""
    return (
        f"[[model]]\nname = '{model.name}'\nurl = '{model.url}'\nbytes = {model.size_bytes}\n"
        f"unpacked_bytes = {model.unpacked_bytes}\nsha256 = '{model.sha256}'\nlicence = '{model.licence}'\n"
        f"attribution = '{model.attribution}'\ngood_for = '{model.good_for}'\n"
    )
