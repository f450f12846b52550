"""References across an airplane file: names that must differ, breakers that belong to one bus."""

from collections.abc import Iterator, Mapping

from runner.airplane.electric.alternating import alternating_buses
from runner.airplane.model.instrument import Instrument
from runner.airplane.model.wiring import Link, LinkKind, Load
from runner.document import Node


def shown_names(instruments: Mapping[str, Instrument]) -> tuple[str, ...]:
    """Every instrument, and every part by the name that a check calls it."""
    parts = (each.part_name(part) for each in instruments.values() for part in each.parts if part.name)
    return (*instruments, *parts)


def refuse_shared_names(
    fields: Mapping[str, Node], loads: Mapping[str, Load], instruments: Mapping[str, Instrument]
) -> None:
    """A load and an instrument (or part) of one name could not be told apart by a check."""
    nodes = fields["instruments"].entries()
    seen = set(loads)
    for name, instrument in instruments.items():
        for shown in {name, *(instrument.part_name(part) for part in instrument.parts)}:
            if shown in seen:
                nodes[name].refuse(
                    f'the name "{shown}" is taken already; use another', at=nodes[name].key_place
                )
            seen.add(shown)


def refuse_split_breakers(
    fields: Mapping[str, Node], loads: Mapping[str, Load], links: Mapping[str, Link]
) -> None:
    """A breaker sits on one bus; everything behind it must hang on that bus."""
    nodes = {**fields["links"].entries(), **fields["loads"].entries()}
    home: dict[str, set[str]] = {}
    for name, breaker, buses in _protected(loads, links):
        shared = home.setdefault(breaker, buses) & buses
        if not shared:
            known = " or ".join(sorted(home[breaker]))
            nodes[name].refuse(
                f'"{name}": breaker "{breaker}" sits on the {known} already; name another breaker'
            )
        home[breaker] = shared


def refuse_mixed_currents(fields: Mapping[str, Node], links: Mapping[str, Link]) -> None:
    """Alternating current comes from inverters alone: no source feeds it, and no inverter feeds on it."""
    alternating = alternating_buses(links)
    nodes, sources = fields["links"].entries(), fields["sources"].entries()
    for link in links.values():
        if link.kind is LinkKind.INVERTER and link.start in alternating:
            nodes[link.name].fail(
                f'"{link.name}": "{link.start}" is behind an inverter itself; feed it from direct current'
            )
        if link.kind is LinkKind.INVERTER and link.traits.output is None and link.end in alternating:
            nodes[link.name].fail(
                f'"{link.name}": "{link.end}" has alternating current; add "output: {{volts: ...}}" here too'
            )
    for name, source in sources.items():
        bus = source.entries()["bus"]
        if bus.text() in alternating:
            bus.fail(f'"{bus.text()}" is behind an inverter; "{name}" gives direct current, put it elsewhere')


def _protected(loads: Mapping[str, Load], links: Mapping[str, Link]) -> Iterator[tuple[str, str, set[str]]]:
    for link in links.values():
        if link.breaker is not None:
            yield link.name, link.breaker, {link.start, link.end}
    for load in loads.values():
        for feed in load.feeds:
            if feed.breaker is not None:
                yield load.name, feed.breaker, {feed.bus}
