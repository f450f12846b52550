"""What the commands over records have in common: which logbook, and how JSON is printed."""

import argparse
import json
from typing import Any, TextIO

from runner.place import logbook_folder
from runner.visible import exact, visible_lines


def add_logbook(parser: argparse.ArgumentParser, default: str | None = None) -> None:
    """`--logbook`, for commands that only read: a folder or a school's address."""
    parser.add_argument(
        "--logbook",
        default=str(logbook_folder()) if default is None else default,
        metavar="PLACE",
        help="the logbook's folder, or a school's postgresql://USER@HOST/DATABASE",
    )


def add_own_logbook(parser: argparse.ArgumentParser) -> None:
    """`--logbook`, for commands that write."""
    parser.add_argument(
        "--logbook", default=str(logbook_folder()), metavar="FOLDER", help="the logbook's folder"
    )


def add_json(parser: argparse.ArgumentParser, default: str | None = None) -> None:
    """`--json`."""
    parser.add_argument(
        "--json", action="store_true", default=default or False, help="print the same as JSON"
    )


def write_json(value: Any, out: TextIO) -> None:  # noqa: ANN401 - whatever JSON can write
    """One JSON document."""
    text = json.dumps(value, indent=2, ensure_ascii=False)
    write_data((visible_lines(text) + "\n").encode(), out)


def write_data(content: bytes, out: TextIO) -> None:
    """UTF-8 for another program: unchanged, whatever encoding is meant for people."""
    stream = exact(out)
    pipe = getattr(stream, "buffer", None)
    if pipe is None:
        stream.write(content.decode())
        return
    stream.flush()
    pipe.write(content)
