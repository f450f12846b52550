"""Which ear listens: the built-in one, or a Vosk model that is shipped, was fetched, or lies in a folder."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Final

from runner.errors import ModelError
from runner.place import data_folder, model_folder
from runner.voice.model.fetchable import fetchable_models
from runner.voice.model.model_shelf import check_all, installed_files, installed_models
from runner.voice.model.model_store import ModelFile, model_files, part_files
from runner.voice.port import Recogniser

BUILTIN: Final = "builtin"
VOSK: Final = "vosk"
OWN_EAR: Final = "ear"
"""The folder of the built-in ear in the shipped models folder."""
EAR: Final = f"{OWN_EAR}/ear.onnx"
"""The built-in ear's network, by its path in the manifest."""
CALIBRATION: Final = f"{OWN_EAR}/calibration.json"
"""And its calibration."""
OWN_VOSK: Final = "vosk"
"""The folder of eyesout's own model in Vosk's format, beside it."""
ENGINE_HELP: Final = (
    "builtin, vosk, vosk:NAME or vosk:FOLDER (default: builtin); `eyesout models list` shows them"
)

_OWN_MODEL: Final = f"{OWN_VOSK}/am/final.mdl"
_KEYS_ONLY: Final = "keys only"
_SUGGESTED: Final = "vosk-model-small-en-us-0.15"


@dataclass(frozen=True, slots=True)
class _VoskModel:
    """A model folder, what to call it, and the files that its manifest lists (a user's folder has none)."""

    folder: Path
    name: str
    files: tuple[ModelFile, ...] = ()


def make_recogniser(
    engine: str,
    pronounce: Mapping[str, tuple[str, ...]] | None = None,
    threshold: float | None = None,
) -> Recogniser:
    """The ear of that name: `builtin`, `vosk`, `vosk:NAME` of an installed model, or `vosk:FOLDER`.

    `vosk` alone is eyesout's own model, or else the only installed one. `threshold` (0 to 1) replaces the
    confidence below which the ear refuses. ModelError when there is no such ear or a file of it is damaged.
    """
    if engine == BUILTIN:
        from runner.voice.ear.builtin import BuiltinEar  # noqa: PLC0415 - loads onnxruntime

        return BuiltinEar(data_folder("models"), pronounce, threshold)
    name, _, which = engine.partition(":")
    if name != VOSK:
        raise ModelError(f'no ear "{engine}"; write builtin, vosk, vosk:NAME or vosk:FOLDER')
    model = _find_vosk(which)
    check_all(model.files)
    from runner.voice.ear.vosk_ear import VoskEar  # noqa: PLC0415 - loads vosk

    return VoskEar(model.folder, name=model.name, threshold=threshold or 0.0)


def shipped_threshold(engine: str) -> float:
    """The confidence (0 to 1) below which that ear refuses unless told otherwise; ModelError as above."""
    if engine != BUILTIN:
        return 0.0
    from runner.voice.ear.calibration import read_calibration  # noqa: PLC0415 - loads numpy

    return read_calibration(model_files(data_folder("models"))[CALIBRATION].content()).threshold


def fingerprint(engine: str) -> str:
    """Twelve hex digits that change whenever a file of that ear does; ModelError when there is none."""
    if engine == BUILTIN:
        hashes = [file.sha256 for file in part_files(data_folder("models"), OWN_EAR).values()]
    else:
        model = _find_vosk(engine.partition(":")[2])
        hashes = [file.sha256 for file in model.files] or [_hash_of(model.folder / "am" / "final.mdl")]
    return hashlib.sha256(" ".join(sorted(hashes)).encode()).hexdigest()[:12]


def made_with(engine: str | None) -> str:
    """The tool and the ear with their versions, for the record; `engine` is None when keys answer."""
    return f"eyesout {version('eyesout')}, {_ear_words(engine)}"


def goes_by_keys(made: str) -> bool:
    """Whether a run that was begun with this (`made_with`) is answered by keys alone."""
    return made.endswith(f", {_KEYS_ONLY}")


def _ear_words(engine: str | None) -> str:
    """What the ear is; a missing one is no reason to keep a run from beginning."""
    if engine is None:
        return _KEYS_ONLY
    name, _, which = engine.partition(":")
    try:
        if name == VOSK:
            return f"ear vosk {version('vosk')} with {_find_vosk(which).name}"
        if name == BUILTIN:
            return f"ear builtin, network {model_files(data_folder('models'))[EAR].sha256[:12]}"
    except (ModelError, PackageNotFoundError):
        return f"ear {name}, not found"
    return f"ear {name}"


def _find_vosk(which: str) -> _VoskModel:
    """The model that is meant by what follows `vosk:`; an installed one goes before a folder of that name."""
    if not which:
        return _own_vosk() or _only_vosk()
    installed = installed_models(model_folder())
    if which in installed:
        return _installed_vosk(installed[which])
    if Path(which).is_dir():
        return _VoskModel(Path(which), Path(which).resolve().name)
    if which in fetchable_models(data_folder("models")):
        raise ModelError(f"{which} is not installed; eyesout models fetch {which}")
    there = f"installed: {', '.join(installed)}" if installed else "none is installed"
    raise ModelError(f'no Vosk model "{which}", neither installed nor a folder; {there}')


def _hash_of(path: Path) -> str:
    """The sha256 of a file that no manifest lists."""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as error:
        raise ModelError(f"{path}: {error.strerror}; name an unpacked model folder") from error


def _own_vosk() -> _VoskModel | None:
    models = data_folder("models")
    if not (models / _OWN_MODEL).exists():
        return None
    files = part_files(models, OWN_VOSK)
    if _OWN_MODEL not in files:
        raise ModelError(f"{models / _OWN_MODEL} is not in the manifest of models; install eyesout again")
    return _VoskModel(
        models / OWN_VOSK, f"eyesout's own model {files[_OWN_MODEL].sha256[:12]}", tuple(files.values())
    )


def _only_vosk() -> _VoskModel:
    """The one that was fetched, when it is clear which."""
    installed = installed_models(model_folder())
    if not installed:
        raise ModelError(f"no Vosk model is installed; eyesout models fetch {_SUGGESTED}")
    if len(installed) > 1:
        raise ModelError(
            f"several Vosk models are installed; write vosk:NAME, NAME of {', '.join(installed)}"
        )
    return _installed_vosk(next(iter(installed.values())))


def _installed_vosk(folder: Path) -> _VoskModel:
    return _VoskModel(folder, folder.name, installed_files(folder))
