"""Every ear that there is or could be fetched, in the words of `eyesout models list`."""

from dataclasses import dataclass
from pathlib import Path
from typing import Final

from runner.errors import ModelError
from runner.place import data_folder
from runner.session.engine import BUILTIN, OWN_EAR, OWN_VOSK, VOSK
from runner.voice.model.fetchable import Fetchable, fetchable_models
from runner.voice.model.model_shelf import installed_files, installed_models
from runner.voice.model.model_store import ModelFile, part_files

_SHIPPED: Final = (
    (BUILTIN, OWN_EAR, "hears only the phrases in force, refuses the rest and gives a probability (usual)"),
    (VOSK, OWN_VOSK, "eyesout's own model in Vosk's format; its figures are in models/vosk/README.md"),
)


@dataclass(frozen=True, slots=True)
class ListedEar:
    """One ear; `size_bytes` is what it takes on the disk, or is to be fetched."""

    engine: str
    """What to write after `--engine`."""
    good_for: str
    size_bytes: int
    licence: str
    attribution: str
    state: str
    """shipped, installed, not installed or damaged."""
    place: str
    """Its folder, or the command that gets it."""


def find_fetchable(name: str) -> Fetchable:
    """The model of that name; ModelError with the names that there are."""
    known = fetchable_models(data_folder("models"))
    if name not in known:
        raise ModelError(f'no model "{name}" can be fetched; known: {", ".join(known)}')
    return known[name]


def ears(shipped: Path, shelf: Path) -> list[ListedEar]:
    """The shipped ones, then those that can be fetched, then other installed ones."""
    own = [
        _with_files(engine, good_for, files, "shipped", shipped / part)
        for engine, part, good_for in _SHIPPED
        if (files := tuple(part_files(shipped, part).values()))
    ]
    known = fetchable_models(shipped)
    installed = installed_models(shelf)
    official = [
        _installed(installed[name], model.good_for) if name in installed else _absent(model)
        for name, model in known.items()
    ]
    others = [
        _installed(folder, "no longer in the list of models")
        for name, folder in installed.items()
        if name not in known
    ]
    return [*own, *official, *others]


def _installed(folder: Path, good_for: str) -> ListedEar:
    engine = f"{VOSK}:{folder.name}"
    try:
        return _with_files(engine, good_for, installed_files(folder), "installed", folder)
    except ModelError as error:
        return ListedEar(engine, good_for, 0, "", "", "damaged", str(error))


def _with_files(
    engine: str, good_for: str, files: tuple[ModelFile, ...], state: str, place: Path
) -> ListedEar:
    return ListedEar(
        engine,
        good_for,
        sum(file.size_bytes for file in files),
        ", ".join(dict.fromkeys(file.licence for file in files)),
        "; ".join(dict.fromkeys(file.attribution for file in files)),
        state,
        str(place),
    )


def _absent(model: Fetchable) -> ListedEar:
    return ListedEar(
        f"{VOSK}:{model.name}",
        model.good_for,
        model.size_bytes,
        model.licence,
        model.attribution,
        "not installed",
        f"eyesout models fetch {model.name}",
    )
