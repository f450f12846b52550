"""Alternating-current buses: what lies behind inverters whose output is described."""

from collections.abc import Mapping

from runner.airplane.model.wiring import Link, LinkKind


def alternating_buses(links: Mapping[str, Link]) -> frozenset[str]:
    """Buses that inverters with an output feed, and whatever is joined to them."""
    alternating = {link.end for link in links.values() if link.traits.output is not None}
    joined = [link for link in links.values() if link.kind is not LinkKind.INVERTER]
    while True:
        reached = {
            end
            for link in joined
            if link.start in alternating or link.end in alternating
            for end in (link.start, link.end)
        }
        if reached <= alternating:
            return frozenset(alternating)
        alternating |= reached
