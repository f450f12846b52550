"""Minimal cut sets against brute force over the life of the wiring."""

from itertools import combinations

import pytest

from runner.airplane.life.life_network import LifeNetwork
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation, everything_works, on_battery
from runner.fault.cut import cut_sets


def is_dead(airplane: Airplane, situation: Situation, load: str, names: tuple[str, ...]) -> bool:
    """Whether the load is dead once all of these have failed, by the solver of life."""
    broken = Situation(
        situation.position,
        lost=situation.lost | (set(names) & set(airplane.sources)),
        pulled=situation.pulled | (set(names) & set(airplane.breakers)),
        stuck_open=situation.stuck_open | (set(names) & set(airplane.links)),
        failed=situation.failed | (set(names) & set(airplane.loads)),
    )
    return load not in LifeNetwork(airplane).solve(broken).alive


@pytest.mark.parametrize("load", ["radio", "lamp", "heater", "reading light"])
@pytest.mark.parametrize("is_normal", [True, False])
def test_the_cut_sets_of_a_small_airplane_are_those_of_brute_force(
    small: Airplane, load: str, *, is_normal: bool
) -> None:
    """Every set of one to three failures tried, minimal ones kept."""
    situation = everything_works(small) if is_normal else on_battery(small, "reserve")
    if load not in LifeNetwork(small).solve(situation).alive:
        return
    names = [*small.sources, *small.links, *small.breakers, load]
    names = [name for name in names if name not in situation.lost]
    killing: list[frozenset[str]] = []
    for size in (1, 2, 3):
        for chosen in combinations(names, size):
            each = frozenset(chosen)
            if not any(known <= each for known in killing) and is_dead(small, situation, load, chosen):
                killing.append(each)
    found = {cut for cut in cut_sets(small, situation, load) if not _ambiguous(small, cut)}
    assert found == {cut for cut in killing if not _ambiguous(small, cut)}


def _ambiguous(airplane: Airplane, cut: frozenset[str]) -> bool:
    """A name that a breaker shares with a load stands for both, and brute force breaks both."""
    return bool(cut & set(airplane.breakers) & set(airplane.loads))


def test_the_single_cuts_of_a_reserve_load_are_its_only_way(merlow: Airplane) -> None:
    """Battery, relay and its breaker, the load's breaker and the load: one of them gone, and it is dead."""
    reserve = on_battery(merlow, "reserve")
    cuts = cut_sets(merlow, reserve, "navigation 1", most=1)
    assert {name for cut in cuts for name in cut} == {
        "main battery",
        "reserve relay",
        "reserve battery feed",
        "nav 1",
        "navigation 1",
    }
