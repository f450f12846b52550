"""The audit against brute force that shares none of its code, and its cover against all subsets."""

from dataclasses import replace
from itertools import combinations
from pathlib import Path
from random import Random

import networkx as nx
import pytest

from runner.airplane.model.airplane import Airplane
from runner.airplane.model.wiring import LinkKind
from runner.checklist.derive.derived_check import derive
from runner.checklist.format.check import Check
from runner.checklist.format.check_load import parse_check
from runner.checklist.kind.action import Action
from runner.checklist.kind.dead import Dead
from runner.checklist.kind.partial import Partial
from runner.checklist.kind.reading import Reading
from runner.checklist.kind.spin_up import SpinUp
from runner.fault.cover import least_cover
from runner.fault.fault import Fault, Kind, faults_of
from runner.fault.fault_audit import audit
from tests.checklist.shipped import shipped_airplane, shipped_check

CASES = (("merlow-ml2", "merlow-reserve"), ("tarn-qx83", "tarn-reserve"))
BY_WIRING = (
    Kind.WELDED,
    Kind.NOT_CLOSING,
    Kind.BROKEN,
    Kind.BREAKER_OUT,
    Kind.DEAD,
    Kind.SHORTED,
    Kind.MISWIRED,
)
"""What networkx can tell; volts, bulbs and slow gyros are told apart below."""


def living(airplane: Airplane, position: str, fault: Fault | None, reserve: str) -> set[str]:
    """Loads with power on the battery alone, by networkx, with one fault in the wiring."""
    kind, name = (None, "") if fault is None else (fault.kind, fault.name)
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_node(airplane.battery.bus)
    for link in airplane.links.values():
        is_named = link.name == name
        is_broken = is_named and kind in (Kind.NOT_CLOSING, Kind.BROKEN)
        is_out = kind is Kind.BREAKER_OUT and link.breaker == name
        is_closed = position in link.closed_in or (is_named and kind is Kind.WELDED)
        if is_closed and not is_broken and not is_out:
            graph.add_edge(link.start, link.end)
            both = link.kind not in (LinkKind.DIODE, LinkKind.INVERTER) or (is_named and kind is Kind.SHORTED)
            if both:
                graph.add_edge(link.end, link.start)
    live = {airplane.battery.bus} | nx.descendants(graph, airplane.battery.bus)
    alive = set()
    for load in airplane.loads.values():
        if kind is Kind.DEAD and load.name == name:
            continue
        for feed in load.feeds:
            bus = reserve if kind is Kind.MISWIRED and load.name == name else feed.bus
            if bus in live and not (kind is Kind.BREAKER_OUT and feed.breaker == name):
                alive.add(load.name)
    return alive


def shown(airplane: Airplane, alive: set[str], name: str) -> bool | tuple[bool, ...]:
    """Whether a load, an instrument or a part of one lives with these loads, by the file's own words."""
    if name in airplane.loads:
        return name in alive
    lives = [
        any(not hasattr(drive, "loads") or set(drive.loads) <= alive for drive in part.drives)
        for instrument in airplane.instruments.values()
        for part in instrument.parts
        if name in (instrument.name, f"{instrument.name} {part.name}")
    ]
    return tuple(lives)


def seen_by(check: Check, airplane: Airplane, fault: Fault | None, reserve: str) -> list[object]:
    """What the items without a voltmeter look at, along the check with its conditions left aside."""
    position = airplane.selector.parked
    found: list[object] = []
    for item in check.items:
        body = item.body
        if isinstance(body, Action) and body.selects is not None:
            position = body.selects
        names: tuple[str, ...] = item.proves
        if isinstance(body, Dead):
            names = body.loads
        elif isinstance(body, Partial):
            names = (*body.alive, *body.dead)
        elif isinstance(body, SpinUp):
            names = (airplane.gyros[body.gyro].load,)
        if not isinstance(body, Reading):
            alive = living(airplane, position, fault, reserve)
            found.append(tuple(shown(airplane, alive, name) for name in names))
    return found


@pytest.mark.parametrize(("airplane", "check"), CASES)
@pytest.mark.parametrize("is_derived", [False, True], ids=["shipped", "derived"])
def test_what_the_wiring_shows_is_what_brute_force_sees(
    airplane: str, check: str, *, is_derived: bool
) -> None:
    """For every failure of the wiring: some item but the voltmeter's answers otherwise, or none does."""
    tail = shipped_airplane(airplane)
    asked = parse_check(derive(tail), Path("derived.yaml")) if is_derived else shipped_check(check)
    reserve = {"merlow-ml2": "reserve bus", "tarn-qx83": "essential bus"}[airplane]
    noticed = set(audit(asked, tail).noticed)
    usual = seen_by(asked, tail, None, reserve)
    for fault in faults_of(tail):
        if fault.kind in BY_WIRING:
            differs = seen_by(asked, tail, fault, reserve) != usual
            by_volts = fault in noticed and not differs
            assert differs <= (fault in noticed), fault
            if by_volts:  # then the battery's reading must be what told it: it feeds far more than it should
                more = living(tail, tail.selector.reserve, fault, reserve)
                less = living(tail, tail.selector.reserve, None, reserve)
                assert more != less, fault


@pytest.mark.parametrize(("airplane", "check"), CASES)
def test_every_failure_is_in_exactly_one_place(airplane: str, check: str) -> None:
    """Noticed, unnoticed, shown elsewhere, or shown to nobody."""
    tail = shipped_airplane(airplane)
    found = audit(shipped_check(check), tail)
    listed = [*found.noticed, *found.unnoticed, *found.elsewhere, *found.unseen]
    assert sorted(listed) == sorted(faults_of(tail))


def test_bulbs_slow_gyros_and_weak_cells_are_noticed_by_the_items_that_look_at_them() -> None:
    """Each lamp and gyro of the reserve has its item, and a cell less is two volts less."""
    tail = shipped_airplane("tarn-qx83")
    noticed = audit(shipped_check("tarn-reserve"), tail).noticed
    assert Fault(Kind.BULB_OUT, "glareshield lamps", "centre") in noticed
    assert Fault(Kind.SLOW, "left direction gyro") in noticed
    assert Fault(Kind.WEAK_CELL, "battery") in noticed


def without(check: Check, *names: str) -> Check:
    """The check without these items."""
    sections = (
        replace(each, items=tuple(item for item in each.items if item.name not in names))
        for each in check.sections
    )
    return replace(check, sections=tuple(sections))


def test_a_welded_reserve_relay_goes_unnoticed_and_one_look_before_shows_it() -> None:
    """It does in the reserve position what it should; with the selector off the reserve bus must be dark."""
    tail, check = shipped_airplane("merlow-ml2"), shipped_check("merlow-reserve")
    fault = Fault(Kind.WELDED, "reserve relay")
    found = audit(without(check, "dark before", "voltmeter moved"), tail)
    assert fault in found.unnoticed
    assert any(look.position == tail.selector.parked for look in found.extra)
    assert fault in audit(without(check, "voltmeter moved"), tail).noticed


def test_a_stuck_voltmeter_is_noticed_only_by_who_compares_it_with_the_rested_volts() -> None:
    """What it showed at rest lies within the band that it is held to under load."""
    tail, check = shipped_airplane("tarn-qx83"), shipped_check("tarn-reserve")
    fault = Fault(Kind.STUCK, tail.voltmeter.name)
    assert audit(without(check, "voltmeter moved"), tail).unnoticed == (fault,)
    assert fault in audit(check, tail).noticed


@pytest.mark.parametrize("seed", range(60))
def test_the_least_cover_is_least_among_all_subsets(seed: int) -> None:
    """Every smaller choice of looks leaves something unseen."""
    random = Random(seed)  # noqa: S311 - test data
    things = range(random.randint(1, 9))
    reveals = {
        f"look {number}": frozenset(thing for thing in things if random.random() < 0.35)
        for number in range(random.randint(1, 9))
    }
    chosen, is_least = least_cover(reveals)
    whole = frozenset[int]().union(*reveals.values())
    assert is_least
    assert frozenset[int]().union(*(reveals[key] for key in chosen)) == whole
    for fewer in combinations(reveals, max(0, len(chosen) - 1)):
        assert not chosen or frozenset[int]().union(*(reveals[key] for key in fewer)) != whole
