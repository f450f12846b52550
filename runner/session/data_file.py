"""Finds check and airplane files: by path, by name beside the file that names them, or shipped."""

import difflib
import os
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from runner.errors import UsageError
from runner.place import data_folder

SUFFIX: Final = ".yaml"


def find_check(name: str, beside: Path | None = None) -> Path:
    """A check file by path, by name beside a pilot file, or a shipped one.

    UsageError names the nearest and says where it looked.
    """
    folders = () if beside is None else (beside.parent,)
    return _find(name, "check", (*folders, data_folder("checklists")), beside)


def find_airplane(name: str, beside: Path | None = None) -> Path:
    """An airplane file by path (seen from the check's folder) or by name; UsageError as above.

    A name is looked for beside the check, then in the folder `airplanes` there, then among the shipped ones.
    """
    folders = () if beside is None else (beside.parent, beside.parent / "airplanes")
    return _find(name, "airplane", (*folders, data_folder("checklists") / "airplanes"), beside)


def find_pilot(name: str) -> Path:
    """A pilot file by path, or a shipped one by name; UsageError names the nearest."""
    return Path(name) if Path(name).exists() else _find(name, "pilot file", (data_folder("demo"),), None)


def airplane_words(airplane: Path, check: Path) -> str:
    """What a check in one place has to write to mean an airplane file in another: its name, or a path."""
    try:
        if find_airplane(airplane.stem, check).resolve() == airplane.resolve():
            return airplane.stem
    except UsageError:
        pass  # no file of that name where a check there would look
    return os.path.relpath(airplane.resolve(), check.resolve().parent)


def _find(name: str, noun: str, folders: Sequence[Path], beside: Path | None) -> Path:
    if name.endswith(SUFFIX) or "/" in name:
        return Path(name) if beside is None else beside.parent / name
    for folder in folders:
        path = folder / f"{name}{SUFFIX}"
        if path.is_file() and path != beside:
            return path
    places = ", ".join(str(folder) for folder in folders)
    raise UsageError(
        f'no {noun} "{name}"; {_advice(name, folders)} Or give the path of a YAML file. '
        f"Looked for {name}{SUFFIX} in {places}"
    )


def _advice(name: str, folders: Sequence[Path]) -> str:
    known = sorted(other.stem for other in folders[-1].glob(f"*{SUFFIX}"))
    near = difflib.get_close_matches(name, known, n=1, cutoff=0.4)
    return f'did you mean "{near[0]}"?' if near else f"known: {', '.join(known)}."
