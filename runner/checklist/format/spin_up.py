"""Spin-ups: which gyro, what starts its clock, what ends it, and how long it may take."""

from collections.abc import Mapping
from dataclasses import replace

from runner.checklist.format.check import Outcome, Response, SpinUp
from runner.checklist.format.duration import read_seconds
from runner.checklist.format.phrase import phrase_of, read_phrases
from runner.checklist.format.scope import Scope
from runner.document import Node

SPIN_UP_REQUIRED = ("gyro", "starts", "advise", "limit")
SPIN_UP_OPTIONAL = ("ends", "stuck")


def read_spin_up(node: Node, scope: Scope) -> SpinUp:
    """A spin-up; FileError when its times or phrases cannot work."""
    keys = node.mapping(SPIN_UP_REQUIRED, SPIN_UP_OPTIONAL)
    gyro = keys["gyro"].text()
    advise, limit = read_seconds(keys["advise"]), read_seconds(keys["limit"])
    if advise >= limit:
        keys["advise"].fail(
            f"advise at {advise:g} s does not come before the limit at {limit:g} s; write a shorter time"
        )
    pulled = Response("flag pulled", _phrases(keys, "ends", node, f"{phrase_of(gyro)} flag pulled"))
    stuck = Response(
        "flag stuck", _phrases(keys, "stuck", node, f"{phrase_of(gyro)} flag stuck"), Outcome.SQUAWK
    )
    for phrase in stuck.phrases:
        if phrase in pulled.phrases:
            keys.get("stuck", node).fail(f'"{phrase}" also ends the clock; write different words for one')
    return SpinUp(gyro, scope.starter(keys["starts"]).name, pulled, stuck, advise, limit)


def _phrases(keys: Mapping[str, Node], name: str, node: Node, default: str) -> tuple[str, ...]:
    """The phrases written under a key, else the default said aloud."""
    return read_phrases(keys.get(name, replace(node, value=default)))
