"""The alignment against every order that is allowed, tried one by one on short flows."""

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from runner.drill.recited.flow_order import FlowOrder, FlowRule
from runner.drill.recited.recitation import align, largest_without_conflict
from tests.drill.recited.flow import is_allowed, longest_common, orders

NAMES = tuple("abcdef")


@st.composite
def flows(draw: st.DrawFn) -> FlowOrder:
    """Up to six items, with rules that point onward."""
    items = NAMES[: draw(st.integers(1, 6))]
    pairs = [(one, other) for at, one in enumerate(items) for other in items[at + 1 :]]
    chosen = draw(st.lists(st.sampled_from(pairs), unique=True)) if pairs else []
    before: dict[str, frozenset[str]] = {}
    for name in items:
        firsts = frozenset(one for one, other in chosen if other == name)
        before[name] = firsts.union(*(before[first] for first in firsts))
    return FlowOrder(items, tuple(FlowRule(one, other, "so") for one, other in chosen), before)


@given(flows(), st.data())
def test_as_much_is_right_as_the_nearest_of_all_allowed_orders_has(
    order: FlowOrder, data: st.DataObject
) -> None:
    """Said in any order, with some left out and others between; the brute force tries every order."""
    said = data.draw(st.lists(st.sampled_from((*order.items, "x", "y")), unique=True))
    found = align(order, said)
    best = max(longest_common(tuple(said), each) for each in orders(order))
    assert len(found.right) == best
    assert is_allowed(order, found.target)
    assert is_allowed(order, found.right)
    assert [name for name in said if name in found.right] == list(found.right)


@given(flows(), st.data())
def test_everything_is_told_once(order: FlowOrder, data: st.DataObject) -> None:
    """Each item is right, out of place or left out; what is no item is an intrusion."""
    said = data.draw(st.lists(st.sampled_from((*order.items, "x", "y")), unique=True))
    found = align(order, said)
    told = [*found.right, *found.misplaced, *found.omitted]
    assert sorted(told) == sorted(order.items)
    assert set(found.omitted) == set(order.items) - set(said)
    assert set(found.intruded) == set(said) & {"x", "y"}


@given(flows(), st.data())
def test_the_largest_set_without_conflict_is_that_of_networkx(order: FlowOrder, data: st.DataObject) -> None:
    """Networkx lists all antichains of the order; the longest is as long as ours."""
    graph = nx.DiGraph((other, name) for name, before in order.before.items() for other in before)
    graph.add_nodes_from(order.items)
    names = data.draw(st.permutations(order.items))
    found = largest_without_conflict(order.before, names)
    assert len(found) == max(map(len, nx.antichains(graph)))
    assert [one for one in found if order.before[one] & set(found)] == []
