"""The walk, with networkx as a second opinion on everything that is a question about graphs."""

import networkx as nx
import pytest

from runner.checklist.format.mark import SELECTOR
from runner.core.grid.machine import Machine
from runner.core.record.entry import AnswerRecorded, Stopped
from runner.core.state import FINAL, State
from runner.prove.walk import RESUMED, Walk, walk
from tests.prove.small import ALL, plan_of


@pytest.fixture(scope="module")
def walked() -> Walk:
    """The exact walk of the small check."""
    return walk(plan_of(*ALL), is_exact=True)


@pytest.fixture(scope="module")
def graph(walked: Walk) -> nx.DiGraph:
    """The same as networkx knows it."""
    edges = [(number, other) for number, following in enumerate(walked.following) for other in following]
    return nx.DiGraph(edges)


def test_every_state_of_the_machine_is_seen(walked: Walk) -> None:
    """All but the one before the start."""
    seen = {walked.state(number) for number in range(len(walked.points))}
    assert seen == set(State) - {State.READY}


def test_every_point_is_reached_and_by_a_shortest_way(walked: Walk, graph: nx.DiGraph) -> None:
    """networkx: single_source_shortest_path_length from the start."""
    lengths = nx.single_source_shortest_path_length(graph, 0)
    assert set(lengths) == set(range(len(walked.points)))
    assert all(len(walked.way(number)) == length + 1 for number, length in lengths.items())


def test_from_every_point_an_end_can_be_reached(walked: Walk, graph: nx.DiGraph) -> None:
    """networkx: ancestors of the ends."""
    ends = set(walked.ends())
    before = set().union(*(nx.ancestors(graph, end) for end in ends))
    assert before | ends == set(range(len(walked.points)))


def test_nothing_follows_an_end(walked: Walk, graph: nx.DiGraph) -> None:
    """networkx: the ends, and nothing else, have no way out."""
    silent = {number for number, degree in graph.out_degree() if degree == 0}
    assert silent == set(walked.ends())
    assert {walked.state(number) for number in silent} == FINAL


def test_a_way_is_what_was_said(walked: Walk) -> None:
    """The nearest end: abandoned in the briefing, where nothing is moved yet."""
    end = next(walked.ends())
    assert walked.way(end) == ("(the run is started)", "abandon check", "affirm")


def test_the_way_can_be_walked_again(walked: Walk) -> None:
    """What is said on the way to the farthest point is in force where it is said."""
    farthest = walked.way(len(walked.points) - 1)
    assert len(farthest) > 5
    assert walked.points[-1].machine.progress.started_at is not None


def test_the_program_may_stop_between_two_entries(walked: Walk) -> None:
    """The answer that powers a gyro is on record, the start of its clock is not: it is made up for."""
    before = next(
        number
        for number, point in enumerate(walked.points)
        if point.machine.state is State.ASKING
        and "reserve" not in point.machine.progress.answers
        and point.machine.progress.last_done == "people"
    )
    after = [walked.points[number] for number in walked.following[before]]
    assert any("gyro" in point.machine.progress.clocks for point in after)
    assert any(RESUMED in point.words for point in walked.points)


def test_what_is_asked_is_as_good_as_moved(walked: Walk) -> None:
    """The selector is owed before anybody answers that it is in reserve."""
    asked = [
        point
        for point in walked.points
        if point.machine.state is State.ASKING
        and point.machine.progress.last_done == "people"
        and "reserve" not in point.machine.progress.answers
    ]
    assert asked
    assert all(SELECTOR in point.owing.out for point in asked)


def test_danger_and_discrepancies_are_met(walked: Walk) -> None:
    """Each value of a reading that means something else, and each answer."""
    kinds = {(kind, item) for kind, item, _, _ in walked.entries}
    assert {(Stopped, "people"), (Stopped, "volts"), (AnswerRecorded, "volts")} <= kinds


def test_the_walk_is_the_same_each_time(walked: Walk) -> None:
    """No order of a set comes into it."""
    again = walk(plan_of(*ALL), Machine, is_exact=True)
    assert [point.words for point in again.points] == [point.words for point in walked.points]
    assert again.following == walked.following
