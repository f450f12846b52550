"""On a squawk: what else hangs on the same breaker or bus, for whoever looks for the fault."""

from collections.abc import Iterator
from dataclasses import dataclass

from runner.airplane.life.neighbour import loads_behind, neighbours_of
from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Check


@dataclass(frozen=True, slots=True)
class SharedFeed:
    """A breaker or a bus of the loads that an item shows, and what else hangs on it."""

    name: str
    """As it is spoken of: `breaker comm 2`, `reserve bus`."""
    others: tuple[str, ...]

    def __str__(self) -> str:
        return f"{self.name} also feeds {', '.join(self.others)}"


def shared_feeds(check: Check, airplane: Airplane | None, item: str) -> tuple[SharedFeed, ...]:
    """Each breaker or bus that the item's loads share with others, once; empty when nothing is known of it.

    Where several loads of the item hang on it, the others are told as seen from the first of them.
    """
    if airplane is None:
        return ()
    found: dict[str, SharedFeed] = {}
    for name in _shown(check, airplane, item):
        try:
            for feed in _feeds(airplane, name):
                found.setdefault(feed.name, feed)
        except KeyError:  # an older check may name what the airplane no longer has
            continue
    return tuple(found.values())


def _shown(check: Check, airplane: Airplane, item: str) -> tuple[str, ...]:
    """What the item shows: its loads or instruments, and a spin-up's gyro."""
    found = check.item(item)
    clock = found.body.clock
    if clock is not None and clock.gyro in airplane.gyros:
        return (*found.proves, airplane.gyros[clock.gyro].load)
    return found.proves


def _feeds(airplane: Airplane, name: str) -> Iterator[SharedFeed]:
    near = neighbours_of(airplane, name)
    for load in sorted(loads_behind(airplane, name)):
        for feed in airplane.loads[load].feeds:
            on_breaker = _on(airplane, near.on_breaker, breaker=feed.breaker)
            if feed.breaker and on_breaker:
                yield SharedFeed(f"breaker {feed.breaker}", on_breaker)
            if on_bus := _on(airplane, near.on_bus, bus=feed.bus):
                yield SharedFeed(feed.bus, on_bus)


def _on(
    airplane: Airplane, loads: tuple[str, ...], *, breaker: str | None = None, bus: str | None = None
) -> tuple[str, ...]:
    """Those of the loads that hang on this breaker, or on this bus."""
    return tuple(
        name
        for name in loads
        if any(
            feed.breaker == breaker if bus is None else feed.bus == bus for feed in airplane.loads[name].feeds
        )
    )
