"""Where things lie: data shipped with the tool, and the user's own folders."""

from pathlib import Path

import platformdirs

_PACKAGE = Path(__file__).resolve().parent


def data_folder(name: str) -> Path:
    """The shipped folder `checklists`, `models` or `demo`: inside the wheel, else beside the package."""
    packed = _PACKAGE / "_data" / name
    return packed if packed.is_dir() else _PACKAGE.parent / name


def logbook_folder() -> Path:
    """Where the user's runs are kept unless `--logbook` says otherwise."""
    return platformdirs.user_data_path("eyesout") / "logbook"


def scripted_folder() -> Path:
    """Where runs of a scripted pilot are kept unless told otherwise: apart from the user's own."""
    return platformdirs.user_data_path("eyesout") / "scripted"


def model_folder() -> Path:
    """Where the user's own models lie, each in a folder of its name."""
    return platformdirs.user_data_path("eyesout") / "models"


def learned_folder() -> Path:
    """Where what was learned of a pilot's voice is kept, a small file for each pilot and device."""
    return platformdirs.user_data_path("eyesout") / "learned"


def font_folder() -> Path:
    """Where the chart library keeps its list of fonts; may be deleted at any time."""
    return platformdirs.user_cache_path("eyesout") / "fonts"


def key_file() -> Path:
    """The user's signing key, made only by `eyesout verify --make-key`."""
    return platformdirs.user_config_path("eyesout") / "logbook.key"


def prompt_folder() -> Path:
    """Where rendered prompts are kept between runs; may be deleted at any time."""
    return platformdirs.user_cache_path("eyesout") / "prompts"
