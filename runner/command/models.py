"""`eyesout models`: which ears there are; fetches, checks and removes Vosk models, and only when told to."""

import argparse
import json
import textwrap
from dataclasses import asdict
from pathlib import Path
from typing import Final, TextIO

from runner.command.ear_list import ListedEar, ears, find_fetchable
from runner.errors import ModelError, UsageError
from runner.place import data_folder, model_folder
from runner.visible import exact
from runner.voice.model.download import length
from runner.voice.model.fetch import fetch, install_from, part_of
from runner.voice.model.fetchable import Fetchable
from runner.voice.model.model_shelf import changing, check_all, installed_files, installed_models, remove
from runner.voice.model.model_store import model_files

EXIT_DAMAGED: Final = ModelError.exit_code


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What is to be done; the ears are listed when nothing is said."""
    parser.set_defaults(json=False)
    actions = parser.add_subparsers(dest="action", metavar="ACTION")
    listed = actions.add_parser("list", help="the ears, where they are and what they are good for (usual)")
    listed.add_argument("--json", action="store_true", help="as JSON")
    got = actions.add_parser("fetch", help="get an official Vosk model; says first what and from where")
    got.add_argument("name", metavar="NAME", help="as `eyesout models list` gives it")
    got.add_argument("--from", dest="file", type=Path, metavar="FILE", help="a zip file that is already here")
    got.add_argument("--yes", action="store_true", help="do not ask")
    removed = actions.add_parser("remove", help="delete a fetched model")
    removed.add_argument("name", metavar="NAME")
    actions.add_parser("verify", help="hold every installed file against its sha256")


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Do it; ModelError (exit code 3) when a model is missing, damaged or cannot be had."""
    match arguments.action:
        case "fetch":
            return _fetch(find_fetchable(arguments.name), arguments, out)
        case "remove":
            return _remove(arguments.name, out)
        case "verify":
            return _verify(out)
        case _:
            return _list(out, as_json=arguments.json)


def _list(out: TextIO, *, as_json: bool) -> int:
    found = ears(data_folder("models"), model_folder())
    if as_json:
        print(json.dumps([asdict(ear) for ear in found], indent=2), file=out)
    else:
        print("\n".join(line for ear in found for line in _lines(ear)), file=out)
    return 0


def _lines(ear: ListedEar) -> list[str]:
    return [
        f"--engine {ear.engine}",
        *_wrapped(ear.good_for),
        *_wrapped(f"{_megabytes(ear.size_bytes)}, {ear.licence}, {ear.attribution}"),
        f"  {ear.state}: {ear.place}",
    ]


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, 80, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False)


def _fetch(model: Fetchable, arguments: argparse.Namespace, out: TextIO) -> int:
    shelf = model_folder()
    if _is_whole(shelf / model.name):
        print(f"{model.name} is installed and whole: {shelf / model.name}", file=out)
        return 0
    print("\n".join(_announcement(model, arguments.file, shelf)), file=out, flush=True)
    if not arguments.yes and not _agrees():
        print("nothing was fetched", file=out)
        return 1
    if arguments.file:
        folder = install_from(arguments.file, model, shelf)
    else:
        folder = fetch(model, shelf, _Progress(model.size_bytes, out).tell)
    print(f"installed in {folder}; use it with --engine vosk:{model.name}", file=out)
    return 0


def _announcement(model: Fetchable, file: Path | None, shelf: Path) -> list[str]:
    begun = length(part_of(model, shelf))
    here = f", {_megabytes(begun)} of it already here" if begun and not file else ""
    unpacked = _megabytes(model.unpacked_bytes)
    return [
        f"{model.name}: {model.good_for}",
        f"  from     {file or model.url}",
        f"  size     {_megabytes(model.size_bytes)}{here}; about {unpacked} installed",
        f"  sha256   {model.sha256}",
        f"  licence  {model.licence}, {model.attribution}",
        f"  into     {shelf / model.name}",
    ]


def _agrees() -> bool:
    try:
        return input("get it? [y/N] ").strip().lower() in ("y", "yes")
    except EOFError:
        raise UsageError("nobody is there to be asked; write --yes to get it without") from None


class _Progress:
    """One line that is rewritten on a terminal, a line every tenth elsewhere."""

    def __init__(self, size_bytes: int, out: TextIO) -> None:
        self._size, self._out, self._shown = size_bytes, exact(out), -1
        self._step, self._end = (1, "\r") if out.isatty() else (10, "\n")

    def tell(self, done_bytes: int) -> None:
        """So many bytes are here."""
        share = 100 * done_bytes // self._size
        if share // self._step != self._shown:
            self._shown = share // self._step
            end = "\n" if share == 100 else self._end  # noqa: PLR2004 - percent
            line = f"  {share:3d} %  {_megabytes(done_bytes)} of {_megabytes(self._size)}"
            print(line, end=end, file=self._out, flush=True)


def _remove(name: str, out: TextIO) -> int:
    shelf = model_folder()
    with changing(shelf):
        print(f"removed {remove(name, shelf)}", file=out)
    return 0


def _verify(out: TextIO) -> int:
    """Every file of every model is read; 3 when one of them is not as its manifest says."""
    shipped = data_folder("models")
    found = {"shipped": shipped, **installed_models(model_folder())}
    faults = [_verify_one(name, folder, out, is_shipped=folder == shipped) for name, folder in found.items()]
    return EXIT_DAMAGED if any(faults) else 0


def _verify_one(name: str, folder: Path, out: TextIO, *, is_shipped: bool) -> bool:
    """Whether something is wrong with it."""
    try:
        files = tuple(model_files(folder).values()) if is_shipped else installed_files(folder)
        check_all(files)
    except ModelError as error:
        print(f"{name}: {error}", file=out)
        return True
    size = _megabytes(sum(file.size_bytes for file in files))
    print(f"{name}: whole, {len(files)} files, {size}, {folder}", file=out)
    return False


def _is_whole(folder: Path) -> bool:
    try:
        check_all(installed_files(folder))
    except ModelError:
        return False
    return True


def _megabytes(size_bytes: int) -> str:
    return f"{size_bytes / 1e6:.1f} MB"
