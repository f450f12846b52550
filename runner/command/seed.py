"""The seed of what a command invents: given, or drawn; the same one invents the same again."""

from __future__ import annotations

import argparse
import secrets
from typing import Final

from runner.command.figure import whole

LARGEST: Final = 999_999


def add_seed(group: argparse._ActionsContainer, does: str) -> None:
    """The option; `does` is what the same seed does, for its help."""
    group.add_argument("--seed", type=whole(0, LARGEST), metavar="S", help=f"the same seed {does}")


def seed_of(arguments: argparse.Namespace) -> int:
    """The one that was given, or any."""
    return secrets.randbelow(LARGEST + 1) if arguments.seed is None else int(arguments.seed)
