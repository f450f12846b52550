"""Which ear listens: the built-in one, or a Vosk model where the user names or has installed one."""

from collections.abc import Mapping
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Final

from runner.errors import ModelError
from runner.place import data_folder
from runner.voice.port import Recogniser
from runner.voice.store import model_files

BUILTIN: Final = "builtin"
VOSK: Final = "vosk"
EAR: Final = "ear/ear.onnx"
"""The built-in ear's network, by its path in the manifest."""


def make_recogniser(engine: str, pronounce: Mapping[str, tuple[str, ...]] | None = None) -> Recogniser:
    """The ear of that name: `builtin`, `vosk:FOLDER`, or `vosk` for a model folder under models/."""
    if engine == BUILTIN:
        from runner.voice.builtin import BuiltinEar  # noqa: PLC0415 - loads onnxruntime

        return BuiltinEar(data_folder("models"), pronounce)
    name, _, folder = engine.partition(":")
    if name != VOSK:
        raise ModelError(f'no ear "{engine}"; write builtin, vosk, or vosk:FOLDER')
    from runner.voice.vosk_ear import VoskEar  # noqa: PLC0415 - loads vosk

    return VoskEar(Path(folder) if folder else _installed_vosk())


def made_with(engine: str | None) -> str:
    """The tool and the ear with their versions, for the record; `engine` is None when keys answer."""
    return f"eyesout {version('eyesout')}, {_ear_words(engine)}"


def _ear_words(engine: str | None) -> str:
    """What the ear is; a missing one is no reason to keep a run from beginning."""
    if engine is None:
        return "keys only"
    name, _, folder = engine.partition(":")
    try:
        if name == VOSK:
            model = Path(folder) if folder else _installed_vosk()
            return f"ear vosk {version('vosk')} with {model.name}"
        if name == BUILTIN:
            return f"ear builtin, network {model_files(data_folder('models'))[EAR].sha256[:12]}"
    except (ModelError, PackageNotFoundError):
        return f"ear {name}, not found"
    return f"ear {name}"


def _installed_vosk() -> Path:
    folders = sorted(path.parent.parent for path in data_folder("models").glob("*/am/final.mdl"))
    if not folders:
        raise ModelError("no Vosk model under models/; name one with vosk:FOLDER, or use the built-in ear")
    return folders[0]
