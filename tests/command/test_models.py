"""`eyesout models` with a list of models of its own and a real server on loopback."""

import io
import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from runner.command import models
from runner.errors import ModelError, UsageError
from runner.place import data_folder, model_folder
from runner.voice.model.model_shelf import check_all, installed_files
from runner.voice.model.model_store import MANIFEST, model_files
from tests.command.records import asked
from tests.voice.archives import NAME, as_toml, listed, zipped
from tests.voice.file_server import Served, serving


class Terminal(io.StringIO):
    """Says that somebody looks at it."""

    def isatty(self) -> bool:
        """It does."""
        return True


@pytest.fixture(autouse=True)
def served(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Served]:
    """The tiny model on a server, in the list of models; an empty shelf of the user's."""
    shipped = tmp_path / "shipped"
    for file in (
        data_folder("models") / MANIFEST,
        *(f.path for f in model_files(data_folder("models")).values()),
    ):
        link = shipped / file.relative_to(data_folder("models"))
        link.parent.mkdir(parents=True, exist_ok=True)
        link.symlink_to(file)
    for module in ("models", "ear_list"):
        monkeypatch.setattr(f"runner.command.{module}.data_folder", lambda _: shipped)
    monkeypatch.setattr("runner.place.platformdirs.user_data_path", lambda name: tmp_path / name)
    monkeypatch.setenv("no_proxy", "127.0.0.1")
    with serving(zipped()) as found:
        (shipped / "fetchable.toml").write_text(as_toml(listed(zipped(), found.url)))
        yield found


def states() -> dict[str, str]:
    """Each ear's state in the list."""
    return {ear["engine"]: ear["state"] for ear in json.loads(asked(models, "list", "--json"))}


def test_a_model_is_listed_fetched_verified_and_removed(served: Served) -> None:
    """What it is, from where, how large and under which licence is said before it comes."""
    tiny = f"vosk:{NAME}"
    assert states() == {"builtin": "shipped", "vosk": "shipped", tiny: "not installed"}
    assert f"not installed: eyesout models fetch {NAME}" in asked(models)
    said = asked(models, "fetch", NAME, "--yes")
    announced = said[: said.index("100 %")]
    content = zipped()
    for words in (
        served.url,
        f"{len(content) / 1e6:.1f} MB",
        listed(content).sha256,
        "Apache-2.0",
        "publisher",
    ):
        assert words in announced
    assert said.endswith(f"use it with --engine {tiny}\n")
    assert states() == {"builtin": "shipped", "vosk": "shipped", tiny: "installed"}
    verified = asked(models, "verify").splitlines()
    assert [line.split(",")[0] for line in verified] == ["shipped: whole", f"{NAME}: whole"]
    assert "is installed and whole" in asked(models, "fetch", NAME)
    assert len(served.asked) == 1
    assert str(model_folder() / NAME) in asked(models, "remove", NAME)
    assert states() == {"builtin": "shipped", "vosk": "shipped", tiny: "not installed"}


@pytest.mark.parametrize(("answer", "code"), [("", 1), ("n", 1), ("nonsense", 1), ("y", 0), (" YES ", 0)])
def test_nothing_comes_unless_the_user_agrees(
    served: Served, monkeypatch: pytest.MonkeyPatch, answer: str, code: int
) -> None:
    """Only yes is yes; otherwise the server is never asked."""
    monkeypatch.setattr("builtins.input", lambda _: answer)
    said = asked(models, "fetch", NAME, code=code)
    assert ("nothing was fetched" in said) == bool(code)
    assert len(served.asked) == (0 if code else 1)


def test_without_anybody_to_ask_it_wants_yes_in_the_command(
    served: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As in a script."""

    def nobody(_: str) -> str:
        raise EOFError

    monkeypatch.setattr("builtins.input", nobody)
    with pytest.raises(UsageError, match="write --yes"):
        asked(models, "fetch", NAME)
    assert served.asked == []


def test_a_carried_file_needs_no_network(served: Served, tmp_path: Path) -> None:
    """`--from` reads it; the server is never asked."""
    carried = tmp_path / "stick.zip"
    carried.write_bytes(zipped())
    assert f"from     {carried}" in asked(models, "fetch", NAME, "--from", str(carried), "--yes")
    check_all(installed_files(model_folder() / NAME))
    assert served.asked == []


def test_the_next_fetch_says_what_is_already_here(served: Served) -> None:
    """And goes on from there."""
    served.drops = [200, 0]
    with pytest.raises(ModelError, match="the same command goes on from there"):
        asked(models, "fetch", NAME, "--yes")
    said = asked(models, "fetch", NAME, "--yes")
    assert "of it already here" in said
    assert served.asked[-1]["Range"] == "bytes=200-"


def test_a_damaged_file_is_found_and_fetched_anew() -> None:
    """`verify` gives exit code 3 and the cure, and the cure works."""
    asked(models, "fetch", NAME, "--yes")
    network = model_folder() / NAME / "am" / "final.mdl"
    network.write_bytes(network.read_bytes()[:-1] + b"!")
    said = asked(models, "verify", code=3)
    assert "shipped: whole" in said
    assert f"damaged (its sha256 is not the manifest's); eyesout models fetch {NAME}" in said
    asked(models, "fetch", NAME, "--yes")
    asked(models, "verify", code=0)


def test_a_broken_manifest_is_listed_as_damage() -> None:
    """The list still comes."""
    asked(models, "fetch", NAME, "--yes")
    (model_folder() / NAME / "manifest.toml").write_text("nonsense")
    assert states()[f"vosk:{NAME}"] == "damaged"
    assert "not a manifest of models" in asked(models, "verify", code=3)


def test_on_a_terminal_one_line_is_rewritten() -> None:
    """Each percent once; the last one ends the line."""
    out = Terminal()
    progress = models._Progress(1000, out)
    for done in range(0, 1001, 5):
        progress.tell(done)
    assert out.getvalue().count("\r") == 100
    assert out.getvalue().endswith("\r  100 %  0.0 MB of 0.0 MB\n")


@pytest.mark.parametrize("action", ["fetch", "remove"])
def test_an_unknown_name_is_one_line_with_the_known_ones(action: str) -> None:
    """And nothing happens."""
    with pytest.raises(ModelError, match="vosk-model-huge"):
        asked(models, action, "vosk-model-huge")
