"""Limits: what a flow passes, each as a sentence with its figures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from math import inf, isinf
from typing import Final

from runner.airplane.electric.alternating import alternating_buses
from runner.airplane.electric.flow import Flow
from runner.airplane.electric.trait import Draw
from runner.airplane.electric.trip import trip_seconds
from runner.airplane.life.life_network import live_feed
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation
from runner.airplane.model.source import Battery, Generator
from runner.airplane.model.wiring import Load

LEAST_SHARE: Final = 22 / 28
"""Of rated volts: under 22 V of 28 V a steady bus is out of MIL-STD-704F (normal 22.0 to 29.0 V)."""
MOST_SHARE: Final = 29 / 28
TOLD_IN_SECONDS: Final = 120
ROUNDING: Final = 1e-6


class Passed(StrEnum):
    """Kinds of limits."""

    SOURCE_LIMIT = "source at its limit"
    SOURCE_RATING = "source over its rating"
    BREAKER = "breaker over its rating"
    LINK = "link over its rating"
    LOW_BUS = "bus under normal volts"
    HIGH_BUS = "bus over normal volts"
    LOST_LOAD = "load dropped out"
    LET_GO = "relay or inverter let go"


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit that is passed."""

    kind: Passed
    name: str
    """The source, breaker, link, bus or load."""
    figure: float
    """Amperes, volts or watts, as the kind has it."""
    bound: float
    seconds: float
    """Until it opens; infinite for what does not open."""
    message: str


def limits(airplane: Airplane, situation: Situation, flow: Flow) -> tuple[Limit, ...]:
    """Everything that is passed in a flow: sources, then breakers and links, buses, and what let go."""
    return (
        *_sources(airplane, situation, flow),
        *_breakers(airplane, situation, flow),
        *_links(airplane, flow),
        *_buses(airplane, flow),
        *_gone(airplane, flow),
    )


def load_amps(airplane: Airplane, situation: Situation, flow: Flow, load: Load, rated_amps: float) -> float:
    """What a live load draws at its bus's volts; behind an inverter, in its own direct-current amperes."""
    if load.name not in flow.alive:
        return 0.0
    bus = live_feed(load, situation, flow.carriers)
    share = flow.volts[bus] / airplane.rated_volts if bus is not None else 0.0
    if load.traits.draw is Draw.CURRENT or share == 0 or bus in alternating_buses(airplane.links):
        return rated_amps
    return rated_amps * share if load.traits.draw is Draw.RESISTANCE else rated_amps / share


def breaker_amps(
    airplane: Airplane, situation: Situation, flow: Flow, rated_amps: dict[str, float] | None = None
) -> dict[str, float]:
    """Amperes through each breaker: of the loads behind it, and of the links that it protects."""
    amps = dict.fromkeys(airplane.breakers, 0.0)
    for load in airplane.loads.values():
        bus = live_feed(load, situation, flow.carriers) if load.name in flow.alive else None
        feed = next((feed for feed in load.feeds if feed.bus == bus), None)
        if feed is not None and feed.breaker is not None:
            rated = load.amps if rated_amps is None else rated_amps[load.name]
            amps[feed.breaker] += load_amps(airplane, situation, flow, load, rated)
    for link in airplane.links.values():
        if link.breaker is not None:
            amps[link.breaker] += abs(flow.link_amps.get(link.name, 0.0))
    return amps


def _sources(airplane: Airplane, situation: Situation, flow: Flow) -> Iterator[Limit]:
    helpers = [each.name for each in airplane.batteries if flow.source_amps[each.name] > 0.05]  # noqa: PLR2004
    for source in airplane.sources.values():
        amps = flow.source_amps[source.name]
        if isinstance(source, Battery) or source.name in situation.lost:
            continue
        limit = source.amps
        if isinstance(source, Generator) and source.limit_amps is not None:
            limit = source.limit_amps
        if amps >= limit - ROUNDING:
            helped = "".join(f"; {name} gives {flow.source_amps[name]:.1f} A more" for name in helpers)
            message = (
                f"{source.name} gives {amps:.1f} A, its limit, and sags to {flow.volts[source.bus]:.1f} V"
                f"{helped}"
            )
            yield Limit(Passed.SOURCE_LIMIT, source.name, amps, limit, inf, message)
        elif amps > source.amps + ROUNDING:
            message = f"{source.name} gives {amps:.1f} A of its rated {source.amps:g} A"
            yield Limit(Passed.SOURCE_RATING, source.name, amps, source.amps, inf, message)


def _breakers(airplane: Airplane, situation: Situation, flow: Flow) -> Iterator[Limit]:
    for name, amps in breaker_amps(airplane, situation, flow).items():
        rating = airplane.breakers[name]
        if amps > rating + ROUNDING:
            seconds = trip_seconds(airplane.trip_curve, rating, amps)
            message = f'breaker "{name}" carries {amps:.1f} A of its {rating:g} A; {opens_words(seconds)}'
            yield Limit(Passed.BREAKER, name, amps, rating, seconds, message)


def _links(airplane: Airplane, flow: Flow) -> Iterator[Limit]:
    for name, amps in flow.link_amps.items():
        rating = airplane.links[name].traits.rating
        if rating is not None and abs(amps) > rating + ROUNDING:
            seconds = trip_seconds(airplane.trip_curve, rating, amps)
            message = f"{name} carries {abs(amps):.1f} A of its {rating:g} A; {opens_words(seconds)}"
            yield Limit(Passed.LINK, name, abs(amps), rating, seconds, message)
    for name, watts in flow.inverter_watts.items():
        output = airplane.links[name].traits.output
        if output is not None and output.rated_watts is not None and watts > output.rated_watts + ROUNDING:
            message = f"{name} gives {watts:.0f} W of its rated {output.rated_watts:g} W"
            yield Limit(Passed.LINK, name, watts, output.rated_watts, inf, message)


def _buses(airplane: Airplane, flow: Flow) -> Iterator[Limit]:
    least, most = _normal_volts(airplane)
    behind = alternating_buses(airplane.links)
    for bus in flow.carriers:
        volts = flow.volts[bus]
        if bus in behind or least <= volts <= most:
            continue
        kind, bound = (Passed.LOW_BUS, least) if volts < least else (Passed.HIGH_BUS, most)
        side = "under" if volts < least else "over"
        message = f"{bus} has {volts:.1f} V, {side} the {bound:.1f} V of normal equipment"
        yield Limit(kind, bus, volts, bound, inf, message)


def _normal_volts(airplane: Airplane) -> tuple[float, float]:
    return LEAST_SHARE * airplane.rated_volts, MOST_SHARE * airplane.rated_volts


def _gone(airplane: Airplane, flow: Flow) -> Iterator[Limit]:
    for name, volts in flow.lost.items():
        floor = airplane.loads[name].traits.drop_out_volts
        message = f"{name} drops out under {floor:g} V; its bus has {volts:.1f} V"
        yield Limit(Passed.LOST_LOAD, name, volts, floor, inf, message)
    for name, volts in flow.let_go.items():
        message = f"{name} lets go: {volts:.1f} V is too little to hold it"
        yield Limit(Passed.LET_GO, name, volts, 0.0, inf, message)


def opens_words(seconds: float) -> str:
    """When a breaker opens, in words."""
    if isinf(seconds):
        return "it may never open"
    if seconds < TOLD_IN_SECONDS:
        return f"it opens within about {seconds:.0f} s"
    return f"it opens within about {seconds / 60:.0f} min"
