"""The eight kinds of item: how each is written, and what each must be able to answer."""

from collections.abc import Callable, Iterable, Mapping
from typing import Final

from runner.checklist.answer import read_responses
from runner.checklist.model import (
    Action,
    Body,
    Call,
    Choice,
    Dead,
    Outcome,
    Partial,
    Response,
    State,
)
from runner.checklist.reading import read_reading
from runner.checklist.scope import Scope
from runner.checklist.spin_up import read_spin_up
from runner.document import Node

DEAD_KEYS = (("loads", "on"), ("answers",))
NOTHING: Final = "nothing"
"""Written under `on` for loads that have no switch of their own."""
PARTIAL_KEYS = (("alive", "dead", "answers"), ())
DEFAULT_DEAD: Final = (
    Response("stays dead", ("stays dead", "no life"), Outcome.PASS),
    Response("came alive", ("came alive", "it is alive"), Outcome.SQUAWK),
)


def _action(node: Node, _: Scope) -> Action:
    return Action(_need(node, read_responses(node), passing=1))


def _state(node: Node, _: Scope) -> State:
    return State(_need(node, read_responses(node), passing=1, failing=1))


def _dead(node: Node, scope: Scope) -> Dead:
    keys = node.mapping(("loads",), ("on", "answers")) if scope.is_recorded else _dead_keys(node)
    loads, switches = read_names(keys["loads"]), _switched_on(keys["on"]) if "on" in keys else ()
    if "answers" not in keys:
        return Dead(DEFAULT_DEAD, loads, switches)
    responses = _need(keys["answers"], read_responses(keys["answers"]), passing=1, failing=1)
    return Dead(_squawking(keys["answers"], responses), loads, switches)


def _dead_keys(node: Node) -> Mapping[str, Node]:
    if "loads" in node.entries() and "on" not in node.entries():
        node.fail(
            'what is switched off is dead anyway; add "on: ..." with the switch that must be on, '
            f'or "on: {NOTHING}" for loads without a switch'
        )
    return node.mapping(*DEAD_KEYS)


def _switched_on(node: Node) -> tuple[str, ...]:
    switches = read_names(node)
    if NOTHING not in switches:
        return switches
    if len(switches) > 1:
        node.fail(f'"{NOTHING}" stands beside a switch; write one or the other')
    return ()


def _partial(node: Node, _: Scope) -> Partial:
    keys = node.mapping(*PARTIAL_KEYS)
    alive, dead = read_names(keys["alive"]), read_names(keys["dead"])
    for name in dead:
        if name in alive:
            keys["dead"].fail(f'"{name}" cannot be alive and dead at once; keep it in one list')
    responses = _need(keys["answers"], read_responses(keys["answers"]), passing=1, failing=1)
    return Partial(responses, alive, dead)


def _choice(node: Node, _: Scope) -> Choice:
    responses = _need(node, read_responses(node), passing=2)
    for response in responses:
        if response.outcome is not Outcome.PASS:
            node.fail(f'"{response.label}" judges, but a choice only branches; write a "state" item instead')
    return Choice(responses)


def _call(node: Node, _: Scope) -> Call:
    responses = read_responses(node)
    if len(responses) != 1 or responses[0].outcome is not Outcome.PASS:
        node.fail('a call has one answer that passes; write "call: reserve bus check complete"')
    return Call(responses)


KINDS: Final[Mapping[str, Callable[[Node, Scope], Body]]] = {
    "action": _action,
    "state": _state,
    "reading": lambda node, _: read_reading(node),
    "spin_up": read_spin_up,
    "dead": _dead,
    "partial": _partial,
    "choice": _choice,
    "call": _call,
}


def read_names(node: Node) -> tuple[str, ...]:
    """One name or a list of different ones."""
    names = node.texts()
    for name in names:
        if names.count(name) > 1:
            node.fail(f'"{name}" is listed twice; keep one of them')
    return names


def _need(
    node: Node, responses: tuple[Response, ...], *, passing: int, failing: int = 0
) -> tuple[Response, ...]:
    good = sum(response.outcome is Outcome.PASS for response in responses)
    if good < passing:
        wanted = "an answer that passes" if passing == 1 else f"{passing} answers to choose from"
        node.fail(f'{wanted} is missing; add one, such as "both on: pass"')
    if len(responses) - good < failing:
        node.fail('nothing here can fail, so nothing is checked; add an answer such as "left out: squawk"')
    return responses


def _squawking(node: Node, responses: Iterable[Response]) -> tuple[Response, ...]:
    kept = tuple(responses)
    for response in kept:
        if response.outcome is Outcome.CAUTION:
            node.fail(f'life where there must be none is a squawk; write "{response.label}: squawk"')
    return kept
