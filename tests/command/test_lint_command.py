"""`eyesout lint`: the line that closes its findings."""

import argparse
import io
from pathlib import Path

from runner.command import lint
from tests.checklist.shipped import FOLDER


def closing_of(text: str, folder: Path) -> str:
    """The last line on a check of that text."""
    path = folder / "own.yaml"
    path.write_text(text, encoding="utf-8")
    parser, out = argparse.ArgumentParser(), io.StringIO()
    lint.add_arguments(parser)
    lint.run(parser.parse_args([str(path)]), out)
    return out.getvalue().splitlines()[-1]


def test_one_finding_is_one(tmp_path: Path) -> None:
    """A word that no dictionary has is one piece of advice."""
    text = (FOLDER / "walk-round.yaml").read_text(encoding="utf-8")
    assert closing_of(text, tmp_path).endswith("0 errors, 0 warnings, 0 pieces of advice")
    unsaid = text.replace("  chocks: CH AA1 K S\n", "")
    assert closing_of(unsaid, tmp_path).endswith("0 errors, 0 warnings, 1 piece of advice")
