"""Proofs of small checks, whole ones and broken ones; a broken machine must be caught by the shortest way."""

from dataclasses import replace
from typing import Any

import pytest

from runner.checklist.format.check import Condition
from runner.checklist.kind.named_state import NamedState as Judged
from runner.core.effect import Effect
from runner.core.event import Event
from runner.core.grid import table
from runner.core.grid.grid_cell import IGNORED
from runner.core.grid.machine import Machine, Step
from runner.core.state import State
from runner.prove.proof import Proof, prove
from tests.prove.small import ALL, BACK, CALL, DIM, LAMPS, PEOPLE, RESERVE, answer, item, plan_of


def messages(proof: Proof) -> list[str]:
    """What is wrong, without the ways."""
    return [violation.message for violation in proof.violations]


class Forgetful(Machine):
    """A machine that forgets at once what its items moved."""

    def handle(self, event: Event) -> Step:
        """As the real one, but for its memory."""
        step = super().handle(event)
        self.progress = replace(self.progress, moves=())
        return step


class Brittle(Machine):
    """A machine that breaks on its first stop."""

    def handle(self, event: Event) -> tuple[State, tuple[Effect, ...]]:
        """As the real one, until somebody is there."""
        step = super().handle(event)
        if step[0] is State.STOPPED:
            raise KeyError("stopped")
        return step


def test_a_whole_check_is_proved() -> None:
    """With every role of an item in it."""
    proof = prove(plan_of(*ALL))
    assert messages(proof) == []
    assert proof.states > 100
    assert proof.steps > proof.states
    assert proof.ends == 2


def test_a_machine_that_forgets_is_caught_by_the_shortest_way() -> None:
    """The reserve is asked, so it may be selected; the check is abandoned; nobody asks it back."""
    proof = prove(plan_of(*ALL), Forgetful)
    way = next(each.way for each in proof.violations if '(abandoned) with "selector" moved' in each.message)
    assert way == ("(the run is started)", "continue", "nobody", "abandon check", "affirm")


def test_every_set_of_things_left_is_told_once() -> None:
    """The dimmer together with the selector, each set by its own shortest way."""
    proof = prove(plan_of(*ALL), Forgetful)
    left = [each.message for each in proof.violations if "not asked back" in each.message]
    assert len(left) == len(set(left))
    assert any('"dimmer" and "selector"' in message for message in left)


def test_a_machine_that_breaks_is_caught_by_the_shortest_way() -> None:
    """Told once, however many ways lead there."""
    (violation,) = (each for each in prove(plan_of(*ALL), Brittle).violations if "breaks" in each.message)
    assert violation.message == "the machine breaks: KeyError('stopped')"
    assert violation.way == ("(the run is started)", "continue", "somebody")


def test_a_table_without_a_way_out_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    """A stop that takes no answer would hold the pilot for ever."""
    rows: tuple[Any, ...] = (table.PICKED, table.VALUE, table.FLAG, *table.WORDS.values())
    for row in rows:
        monkeypatch.setitem(row.cells, State.STOPPED, IGNORED)
    (violation,) = (each for each in prove(plan_of(*ALL)).violations if "no end" in each.message)
    assert violation.message == "no end can be reached from here (stopped)"
    assert violation.way == ("(the run is started)", "continue", "somebody")


def test_what_no_item_returns_is_caught() -> None:
    """The loader refuses such a file; the proof finds it in the run."""
    proof = prove(plan_of(PEOPLE, RESERVE, LAMPS, BACK, CALL))
    (violation,) = proof.violations
    assert violation.message == 'a run ends (complete) with "dimmer" moved and not asked back'
    assert violation.way[-2:] == ("selector off", "check complete")


def test_an_item_whose_every_answer_passes_is_caught() -> None:
    """It checks nothing."""
    idle = item("idle", Judged((answer("fine"), answer("well"))))
    assert messages(prove(plan_of(PEOPLE, idle, CALL))) == [
        'item "idle" can never fail: it is never asked, or every answer passes'
    ]


def test_an_item_that_is_never_asked_is_caught() -> None:
    """Its condition waits for an answer that nobody can give."""
    hidden = replace(LAMPS, moves=(), when=Condition("people", ("everybody",)))
    assert messages(prove(plan_of(PEOPLE, hidden, CALL))) == [
        'item "lamps" can never fail: it is never asked, or every answer passes'
    ]


def test_what_is_put_off_and_moves_is_asked_back_though_its_return_was_answered() -> None:
    """The dimmer's return is answered before the lamps are asked at last: it is asked again."""
    loose = replace(LAMPS, critical=False)
    assert messages(prove(plan_of(PEOPLE, RESERVE, loose, DIM, BACK, CALL))) == []
