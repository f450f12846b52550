"""Runs record commands as the command line would, on the logbook tests' invented runs."""

import argparse
import io
from types import ModuleType


def asked(command: ModuleType, *words: str, code: int = 0) -> str:
    """What the command prints for these arguments; its exit code must be `code`."""
    parser = argparse.ArgumentParser()
    command.add_arguments(parser)
    out = io.StringIO()
    assert command.run(parser.parse_args(words), out) == code
    return out.getvalue()
