"""The list of models that can be fetched."""

import io
import re
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from runner.errors import ModelError
from runner.place import data_folder
from runner.voice.model.fetchable import LISTING, fetchable_models
from tests.voice.archives import as_toml, listed, zipped


def test_the_shipped_list_pins_every_model() -> None:
    """From the publisher over https under the model's own name, with size, SHA-256 and licence."""
    models = fetchable_models(data_folder("models"))
    assert "vosk-model-small-en-us-0.15" in models
    for name, model in models.items():
        where = urlsplit(model.url)
        assert (where.scheme, where.netloc, Path(where.path).name) == (
            "https",
            "alphacephei.com",
            f"{name}.zip",
        )
        assert re.fullmatch("[0-9a-f]{64}", model.sha256)
        assert 1_000_000 < model.size_bytes < model.unpacked_bytes
        assert all((model.licence, model.attribution, model.good_for))


def test_an_entry_comes_out_as_written(tmp_path: Path) -> None:
    """Every field."""
    model = listed(zipped())
    (tmp_path / LISTING).write_text(as_toml(model))
    assert fetchable_models(tmp_path) == {model.name: model}


def test_a_broken_list_and_a_missing_one_are_named(tmp_path: Path) -> None:
    """One line each."""
    with pytest.raises(ModelError, match=r"fetchable\.toml: No such file"):
        fetchable_models(tmp_path)
    (tmp_path / LISTING).write_text("[[model]]\nname = 'x'\n")
    with pytest.raises(ModelError, match=r"not a list of models \('url'\)"):
        fetchable_models(tmp_path)


@pytest.mark.parametrize(
    ("change", "message"),
    [(lambda whole: whole + b"x", "bytes instead of"), (lambda whole: b"X" + whole[1:], "its sha256 is")],
)
def test_an_archive_is_known_by_size_and_hash(change: object, message: str) -> None:
    """The pinned one passes and can be read from its beginning; any other is refused."""
    content = zipped()
    archive = io.BytesIO(content)
    listed(content).check(archive)
    assert archive.read() == content
    assert callable(change)
    with pytest.raises(ModelError, match=message):
        listed(content).check(io.BytesIO(change(content)))
