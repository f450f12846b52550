"""Remarks on breakers, links and loads: what is over what protects it, and what a start would open."""

from __future__ import annotations

from collections.abc import Iterator

from runner.airplane.electric.current_network import Electric
from runner.airplane.electric.limit import Passed, limits
from runner.airplane.electric.trip import trip_seconds
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import everything_works
from runner.airplane.model.wiring import Load
from runner.airplane.survey.remark import Remark, error, warning

START_SECONDS = 1.0
"""A start current is over by then; ours."""


def judge_wires(airplane: Airplane) -> Iterator[Remark]:
    """Loads over their breakers, links under theirs, and limits that the normal airplane passes."""
    for breaker, rating in airplane.breakers.items():
        behind = [
            load for load in airplane.loads.values() if any(feed.breaker == breaker for feed in load.feeds)
        ]
        yield from _loads(airplane, breaker, rating, behind)
    for link in airplane.links.values():
        own = link.traits.rating
        if own is not None and link.breaker is not None and airplane.breakers[link.breaker] > own:
            message = (
                f'"{link.name}" bears {own:g} A, and its breaker "{link.breaker}" opens at'
                f" {airplane.breakers[link.breaker]:g}: the link goes first; fit a smaller breaker"
            )
            yield error(airplane, link.name, message)
    yield from _normal(airplane)


def _loads(airplane: Airplane, breaker: str, rating: float, behind: list[Load]) -> Iterator[Remark]:
    amps = sum(load.amps for load in behind)
    if amps > rating:
        names = ", ".join(load.name for load in behind)
        message = (
            f'breaker "{breaker}" is {rating:g} A, and behind it draw {amps:g} A ({names}); write the true'
            " rating or amps"
        )
        yield error(airplane, breaker, message)
        return
    for load in behind:
        surge = amps - load.amps + load.surge_amps
        if trip_seconds(airplane.trip_curve, rating, surge) <= START_SECONDS:
            message = (
                f'breaker "{breaker}" of {rating:g} A opens while "{load.name}" starts with {surge:g} A;'
                " write the true rating or surge"
            )
            yield warning(airplane, load.name, message)


def _normal(airplane: Airplane) -> Iterator[Remark]:
    """Limits that are passed with everything working, but for what is told of breakers already."""
    situation = everything_works(airplane)
    for limit in limits(airplane, situation, Electric(airplane).solve(situation)):
        over_link = limit.kind is Passed.BREAKER and any(
            link.breaker == limit.name for link in airplane.links.values()
        )
        if over_link or limit.kind in (Passed.LINK, Passed.LOST_LOAD, Passed.LET_GO):
            yield error(airplane, limit.name, f"with everything working and on, {limit.message}")
