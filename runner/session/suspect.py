"""On a squawk: what else hangs on the same breaker or bus, for whoever looks for the fault."""

from runner.airplane.neighbour import loads_behind, neighbours_of
from runner.checklist.model import SpinUp
from runner.session.parts import Parts


def shared_feeds(parts: Parts, item: str) -> tuple[str, ...]:
    """A line for each breaker or bus group that the item's loads share with others; empty when unknown."""
    airplane = parts.airplane
    lines: dict[str, None] = {}
    for name in _loads(parts, item):
        found = neighbours_of(airplane, name)
        for feed in (feed for load in loads_behind(airplane, name) for feed in airplane.loads[load].feeds):
            if found.on_breaker and feed.breaker:
                lines[f"breaker {feed.breaker} also feeds {', '.join(found.on_breaker)}"] = None
            if found.on_bus:
                lines[f"{feed.bus} also feeds {', '.join(found.on_bus)}"] = None
    return tuple(lines)


def _loads(parts: Parts, item: str) -> tuple[str, ...]:
    """What the item shows: its loads or instruments, and a spin-up's gyro."""
    found = parts.check.item(item)
    if isinstance(found.body, SpinUp):
        return (*found.proves, parts.airplane.gyros[found.body.gyro].load)
    return found.proves
