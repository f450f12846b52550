"""Durations as they are said on the ramp: `60 s`, `2 min`, `1 min 30 s`."""

import re

from runner.document import Node

_DURATION = re.compile(r"(?:([0-9]{1,3}) min)? ?(?:([0-9]{1,4}) s)?")


def read_seconds(node: Node) -> float:
    """Seconds, more than zero; FileError when the unit is missing."""
    words = node.text()
    found = _DURATION.fullmatch(words)
    if found is None:
        node.fail(f'"{words}" is not a time; write it with its unit, such as "60 s" or "1 min 30 s"')
    seconds = 60 * int(found[1] or 0) + int(found[2] or 0)
    if seconds == 0:
        node.fail("a time of zero cannot be waited for; write one second or more")
    return float(seconds)
