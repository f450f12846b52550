"""Shipped airplanes with a twist, by edits of their files."""

import re
from typing import Final

from runner.airplane.load.airplane_load import read_airplane
from runner.airplane.model.airplane import Airplane
from runner.document import parse_document
from tests.checklist.shipped import FOLDER

Change = tuple[str, str]
"""A pattern that occurs, and what replaces every match."""

_EXTRA = "".join(
    f"  extra {letter}: {{bus: reserve bus, breaker: floods, amps: 0.1, service: cabin}}\n"
    for letter in "abcdefghijkl"
)
_SHED_GYROS = "right attitude gyro|right compass gyro"

TWISTS: Final[dict[str, tuple[str, tuple[Change, ...]]]] = {
    "merlow": ("merlow-ml2", ()),
    "tarn": ("tarn-qx83", ()),
    "names with digits": (
        "merlow-ml2",
        (("left attitude gyro", "attitude gyro 2"), ("left compass gyro", "compass gyro 3")),
    ),
    "a position called on": (
        "tarn-qx83",
        (
            ("essential, minimum]", '"on", minimum]'),
            ("reserve: essential", 'reserve: "on"'),
            (r"closed_in: \[essential\]", 'closed_in: ["on"]'),
        ),
    ),
    "no voltmeter at rest": (
        "merlow-ml2",
        (("voltmeter supply: {bus: hot bus", "voltmeter supply: {bus: reserve bus"),),
    ),
    "many loads": ("merlow-ml2", (("  gear lamps: {bus: reserve", f"{_EXTRA}  gear lamps: {{bus: reserve"),)),
    "bands between steps": ("tarn-qx83", (("resolution: 0.1", "resolution: 0.5"),)),
    "a heater that the file does not mark": ("merlow-ml2", (("cabin outlets", "seat Heat"),)),
    "all of the AC bus moves": (
        "merlow-ml2",
        ((r"(bus: AC bus, .*)}\n", r"\1, acts: moves}\n"),),
    ),
    "nothing to run on the AC bus": (
        "merlow-ml2",
        ((rf"(  (?:{_SHED_GYROS}): {{bus: AC bus.*)}}\n", r"\1, duty: {check: 0}}\n"),),
    ),
}


def twisted_airplane(name: str) -> Airplane:
    """One of TWISTS, read."""
    stem, changes = TWISTS[name]
    path = FOLDER / "airplanes" / f"{stem}.yaml"
    text = path.read_text(encoding="utf-8")
    for pattern, new in changes:
        text, count = re.subn(pattern, new, text)
        assert count, pattern
    return read_airplane(parse_document(text, path))
