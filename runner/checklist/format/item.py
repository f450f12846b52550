"""One item of a check file: its kind, its marks, and what it refers to."""

from collections.abc import Mapping
from typing import Final

from runner.checklist.format.check import SILENCE_SECONDS, Body, Condition, Item
from runner.checklist.format.duration import read_seconds
from runner.checklist.format.mark import MARK_KEYS, read_moves, read_remedy, read_returns
from runner.checklist.format.named_answer import read_names
from runner.checklist.format.scope import Scope
from runner.checklist.kind.kinds import KINDS
from runner.document import Node

ITEM_REQUIRED = ("item",)
ITEM_OPTIONAL = (
    *("challenge", "why", "critical", "looks", "restores", "selects", "when", "proves"),
    *MARK_KEYS,
    *KINDS,
)


CLAIMS: Final[Mapping[str, str]] = {
    "selects": "where its selector stands",
    "restores": "where its selector belongs",
    "proves": "which of its loads live",
    **{key: kind.claim for key, kind in KINDS.items() if kind.claim},
}
"""Keys of an item that say something of an airplane; a spin-up's gyro is a name for its times as well."""


def read_item(node: Node, scope: Scope) -> Item:
    """The item; FileError names what does not fit together."""
    name = _name(node, scope)
    inside = node.within(f'item "{name}"')
    keys = inside.mapping(ITEM_REQUIRED, ITEM_OPTIONAL)
    if not scope.has_airplane:
        _refuse_claims(keys)
    body = _body(keys, scope, inside)
    restores = _flag(keys, "restores", default=False)
    if restores and not body.selects:
        keys["restores"].fail('restoring means moving the selector; add "selects: ..." to an action')
    returns = read_returns(keys, body)
    puts_back = restores or bool(returns)
    critical = _flag(keys, "critical", default=puts_back)
    if puts_back and not critical:
        keys["critical"].fail(
            'what restores the selector or returns a switch is always critical; remove "critical"'
        )
    return Item(
        name=name,
        challenge=keys["challenge"].text() if "challenge" in keys else name,
        body=body,
        why=keys["why"].text() if "why" in keys else "",
        place=node.place,
        critical=critical,
        restores=restores,
        looks=_flag(keys, "looks", default=body.is_looked_at),
        when=_condition(keys, body, scope, restores=restores),
        proves=_proves(keys, body),
        moves=read_moves(keys, body),
        returns=returns,
        remedy=read_remedy(keys, body, inside),
        silence_seconds=read_seconds(keys["silence"]) if "silence" in keys else SILENCE_SECONDS,
    )


def _refuse_claims(keys: Mapping[str, Node]) -> None:
    """FileError at the first key that claims something of an airplane."""
    for key, what in CLAIMS.items():
        if key in keys:
            instead = 'ask for it as a "state"' if key in KINDS else f'remove "{key}"'
            keys[key].fail(
                f'"{key}" says {what}, and this check names no airplane; '
                f'add "airplane: ..." at the top, or {instead}',
                at=keys[key].key_place,
            )


def _name(node: Node, scope: Scope) -> str:
    entries = node.entries()
    if "item" not in entries:
        node.fail('"item" is missing; start with "- item: ..." and its name')
    name = entries["item"].text()
    for other in scope.earlier.values():
        if other.name.casefold() == name.casefold():
            entries["item"].fail(
                f'item "{name}" is named again (first in line {other.place.line}); rename one'
            )
    return name


def _body(keys: Mapping[str, Node], scope: Scope, node: Node) -> Body:
    kinds = [key for key in keys if key in KINDS]
    if not kinds:
        node.fail(f"what kind of item is this? Add one of: {', '.join(KINDS)}")
    if len(kinds) > 1:
        keys[kinds[1]].fail(
            f'an item is of one kind, not both "{kinds[0]}" and "{kinds[1]}"; make two items of it',
            at=keys[kinds[1]].key_place,
        )
    body = KINDS[kinds[0]].read(keys[kinds[0]], scope)
    if "selects" not in keys:
        return body
    if not body.is_deed:
        keys["selects"].fail(f'only an action moves the selector, not a {kinds[0]}; remove "selects"')
    return body.selecting(keys["selects"].text())


def _flag(keys: Mapping[str, Node], name: str, *, default: bool) -> bool:
    return keys[name].flag() if name in keys else default


def _condition(keys: Mapping[str, Node], body: Body, scope: Scope, *, restores: bool) -> Condition | None:
    """When the item applies; a clock may not be asked for where what starts it was never asked."""
    condition = scope.condition(keys["when"]) if "when" in keys else None
    if condition is not None and (restores or body.is_call):
        keys["when"].fail('restoration and the completion call always apply; remove "when"')
    if body.clock is not None:
        starter = scope.earlier[body.clock.starts_on]
        if starter.when is not None and starter.when != condition:
            at = keys.get("when", keys["spin_up"])
            at.fail(f'"{starter.name}" starts this clock only sometimes; give both items the same "when"')
    return condition


def _proves(keys: Mapping[str, Node], body: Body) -> tuple[str, ...]:
    """Loads named under `proves`, or those that the kind itself names."""
    alive, dead = body.shows(())
    own = alive + dead
    if "proves" not in keys:
        return own
    if own:
        keys["proves"].fail('a dead or partial item names its loads itself; remove "proves"')
    if body.is_fork or body.is_call:
        keys["proves"].fail('a choice or call looks at no load; remove "proves"')
    return read_names(keys["proves"])
