"""What eyesout needs, and up to which version that was tested."""

import tomllib
from importlib.metadata import version
from itertools import chain
from pathlib import Path

import pytest
from packaging.requirements import Requirement

PROJECT = tomllib.loads((Path(__file__).parents[1] / "pyproject.toml").read_text(encoding="utf-8"))["project"]
EXTRAS = PROJECT["optional-dependencies"]
ASKED = [*PROJECT["dependencies"], *chain(*EXTRAS.values())]
APART = {Requirement(line).name for line in (*EXTRAS["bench"], *EXTRAS["vosk-test"])}
"""Of benchmarks, and a large model: no test asks for them."""
NEEDED = [Requirement(line) for line in sorted(set(ASKED)) if not line.startswith("eyesout")]

PINNED = {"hibari-tts"}
"""A newer one would speak otherwise."""


@pytest.mark.parametrize("needed", NEEDED, ids=str)
def test_each_has_a_lowest_and_a_first_untested_version(needed: Requirement) -> None:
    """A library that changes its ways, as one did that began to send telemetry, does not come by itself."""
    wanted = {"=="} if needed.name in PINNED else {">=", "<"}
    assert {each.operator for each in needed.specifier} == wanted


@pytest.mark.parametrize("needed", [each for each in NEEDED if each.name not in APART], ids=str)
def test_these_tests_run_with_a_version_that_is_asked_for(needed: Requirement) -> None:
    """So the upper bound says what was tested."""
    assert needed.specifier.contains(version(needed.name))
