"""Which ear a name means, and what a run is made with, in words for its record."""

import hashlib
import io
import json
from importlib.metadata import version
from pathlib import Path

import pytest

from runner.errors import ModelError
from runner.place import data_folder, model_folder
from runner.session.engine import fingerprint, made_with, make_recogniser, shipped_threshold
from runner.voice.model.model_shelf import changing, install
from tests.voice.archives import as_toml, listed, zipped

NETWORK = b"a network of eyesout's own"


@pytest.fixture
def shipped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A models folder without a Vosk model, whose list offers `tiny-en`; an empty shelf of the user's."""
    folder = tmp_path / "shipped"
    folder.mkdir()
    (folder / "fetchable.toml").write_text(as_toml(listed(zipped(), name="tiny-en")))
    (folder / "manifest.toml").write_text("file = []\n")
    monkeypatch.setattr("runner.session.engine.data_folder", lambda _: folder)
    monkeypatch.setattr("runner.place.platformdirs.user_data_path", lambda name: tmp_path / name)
    return folder


def put(*names: str) -> None:
    """Install tiny models of these names for the user; Vosk itself could not load them."""
    with changing(model_folder()):
        for name in names:
            install(listed(zipped(), name=name), io.BytesIO(zipped()), model_folder())


def ship(folder: Path, *, is_listed: bool = True) -> None:
    """Let eyesout come with a Vosk model of its own."""
    (folder / "vosk" / "am").mkdir(parents=True)
    (folder / "vosk" / "am" / "final.mdl").write_bytes(NETWORK)
    if is_listed:
        (folder / "manifest.toml").write_text(
            f'[[file]]\npath = "vosk/am/final.mdl"\nbytes = {len(NETWORK)}\nlicence = "MIT"\n'
            f'attribution = "nobody"\nsha256 = "{hashlib.sha256(NETWORK).hexdigest()}"\n'
        )


def test_the_builtin_ear_is_named_by_its_network() -> None:
    """The first digits of the file's own SHA-256, reckoned here."""
    digest = hashlib.sha256((data_folder("models") / "ear" / "ear.onnx").read_bytes()).hexdigest()
    assert made_with("builtin") == f"eyesout {version('eyesout')}, ear builtin, network {digest[:12]}"


def test_a_vosk_ear_is_named_by_library_and_model(tmp_path: Path) -> None:
    """Both decide what is heard."""
    (tmp_path / "small-en").mkdir()
    assert made_with(f"vosk:{tmp_path / 'small-en'}").endswith(f"ear vosk {version('vosk')} with small-en")


@pytest.mark.usefixtures("shipped")
@pytest.mark.parametrize(
    ("engine", "words"), [(None, "keys only"), ("oracle", "ear oracle"), ("vosk", "ear vosk, not found")]
)
def test_what_is_not_there_is_said(engine: str | None, words: str) -> None:
    """A run by keys, an unknown ear, a model that is not installed: none keeps a run from beginning."""
    assert made_with(engine).endswith(f", {words}")


@pytest.mark.usefixtures("shipped")
def test_vosk_alone_is_the_only_installed_model() -> None:
    """And each is found by its name."""
    put("tiny-en")
    for engine in ("vosk", "vosk:tiny-en"):
        assert made_with(engine).endswith("with tiny-en")


def test_vosk_alone_is_the_shipped_model_before_any_installed_one(shipped: Path) -> None:
    """Named by its network."""
    put("one-en", "two-en")
    ship(shipped)
    digest = hashlib.sha256(NETWORK).hexdigest()
    assert made_with("vosk").endswith(f"with eyesout's own model {digest[:12]}")
    assert made_with("vosk:two-en").endswith("with two-en")


@pytest.mark.usefixtures("shipped")
def test_an_installed_name_goes_before_a_folder_of_that_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is meant does not depend on where the command is typed."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "tiny-en").mkdir()
    with pytest.raises(ModelError, match="tiny-en: not a Vosk model"):
        make_recogniser("vosk:tiny-en")
    put("tiny-en")
    (model_folder() / "tiny-en" / "am" / "final.mdl").unlink()
    with pytest.raises(ModelError, match=r"final\.mdl: No such file.*; eyesout models fetch tiny-en"):
        make_recogniser("vosk:tiny-en")


@pytest.mark.usefixtures("shipped")
@pytest.mark.parametrize(
    ("engine", "installed", "message"),
    [
        ("oracle", (), 'no ear "oracle"; write builtin, vosk, vosk:NAME or vosk:FOLDER'),
        ("vosk", (), "no Vosk model is installed; eyesout models fetch vosk-model-small-en-us-0.15"),
        ("vosk", ("a-en", "b-en"), "several Vosk models are installed; write vosk:NAME, NAME of a-en, b-en"),
        ("vosk:tiny-en", ("a-en",), "tiny-en is not installed; eyesout models fetch tiny-en"),
        ("vosk:huge", ("a-en",), 'no Vosk model "huge", neither installed nor a folder; installed: a-en'),
        ("vosk:/nowhere", (), 'no Vosk model "/nowhere", .*; none is installed'),
    ],
)
def test_a_missing_ear_says_what_to_do(engine: str, installed: tuple[str, ...], message: str) -> None:
    """One line each."""
    put(*installed)
    with pytest.raises(ModelError, match=message):
        make_recogniser(engine)


def test_a_damaged_model_is_refused_before_vosk_sees_it(shipped: Path) -> None:
    """An installed one and the shipped one, each with its own cure."""
    put("tiny-en")
    network = model_folder() / "tiny-en" / "am" / "final.mdl"
    network.write_bytes(network.read_bytes()[:-1] + b"!")
    with pytest.raises(ModelError, match=r"damaged .*; eyesout models fetch tiny-en"):
        make_recogniser("vosk")
    ship(shipped)
    (shipped / "vosk" / "am" / "final.mdl").write_bytes(NETWORK[:-1] + b"!")
    with pytest.raises(ModelError, match=r"damaged .*; install eyesout again"):
        make_recogniser("vosk")


def test_a_shipped_model_that_is_not_in_the_manifest_is_refused(shipped: Path) -> None:
    """Nothing is loaded that cannot be checked."""
    ship(shipped, is_listed=False)
    with pytest.raises(ModelError, match="is not in the manifest of models"):
        make_recogniser("vosk")


def test_the_shipped_threshold_is_the_one_in_the_calibration_file() -> None:
    """Read here as plain JSON; Vosk's own confidence has none."""
    shipped = json.loads((data_folder("models") / "ear" / "calibration.json").read_text())
    assert shipped_threshold("builtin") == shipped["threshold"]
    assert shipped_threshold("vosk") == 0.0


def test_a_fingerprint_changes_with_the_model(shipped: Path, tmp_path: Path) -> None:
    """Of a shipped model, of an installed one, and of a folder that no manifest lists."""
    folder = tmp_path / "own"
    (folder / "am").mkdir(parents=True)
    (folder / "am" / "final.mdl").write_bytes(b"one")
    one = fingerprint(f"vosk:{folder}")
    (folder / "am" / "final.mdl").write_bytes(b"two")
    put("tiny-en")
    installed = fingerprint("vosk:tiny-en")
    ship(shipped)
    prints = {one, fingerprint(f"vosk:{folder}"), installed, fingerprint("vosk")}
    assert len(prints) == 4
    assert fingerprint("vosk:tiny-en") == installed
    with pytest.raises(ModelError, match="neither installed nor a folder"):
        fingerprint("vosk:nowhere")
