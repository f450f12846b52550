"""`eyesout derive`: writes a first-flight reserve-bus check from an airplane file."""

import argparse
from datetime import UTC, datetime
from pathlib import Path
from typing import TextIO

from runner.airplane.load.airplane_load import load_airplane
from runner.checklist.derive.derived_check import derive
from runner.errors import UsageError
from runner.session.data_file import airplane_words, find_airplane


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The airplane, and where the check goes."""
    parser.add_argument("airplane", help="a shipped airplane's name, or a YAML file")
    parser.add_argument("--to", type=Path, metavar="FILE", help="write to a new file (default: print it)")


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Print or write it; an existing file is never overwritten."""
    path = find_airplane(arguments.airplane)
    named_as = airplane_words(path, arguments.to or Path("check.yaml"))
    text = derive(load_airplane(path), datetime.now(UTC).date(), named_as)
    if arguments.to is None:
        out.write(text)
        return 0
    try:
        with arguments.to.open("x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError:
        raise UsageError(f"{arguments.to} exists; name a new file") from None
    except OSError as error:
        raise UsageError(f"{arguments.to} cannot be written: {error.strerror}") from None
    print(f"{arguments.to}: edit it, then `eyesout lint {arguments.to}`", file=out)
    return 0
