"""Movement: what an item moves comes back by a later one; dead things are judged with their switch on."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from runner.checklist.format.check import Condition, Item
from runner.checklist.kind.dead import NOTHING
from runner.document import Node, nearest


@dataclass(frozen=True, slots=True)
class Moved:
    """A switch that is out of its place."""

    node: Node
    """Where the file says so first."""
    movers: tuple[Item, ...]
    """Alternatives may move the same switch."""

    def may_stay_put(self, condition: Condition | None) -> bool:
        """Whether an item with this condition may be asked without the switch having been moved."""
        return len(self.movers) == 1 and self.movers[0].when not in (None, condition)

    def may_be_left(self, condition: Condition | None) -> bool:
        """Whether the switch may have been moved where an item with this condition is not asked."""
        return condition is not None and any(mover.when != condition for mover in self.movers)


def moved_after(node: Node, item: Item, moved: Mapping[str, Moved]) -> Mapping[str, Moved]:
    """What is out of place once the item is asked; FileError for a return or dead item without its move."""
    keys = node.within(f'item "{item.name}"').entries()
    left = dict(moved)
    for entry in _names(keys, "returns"):
        _check_return(entry, item, left, keys)
        del left[entry.text()]
    for entry in _names(keys, "moves"):
        before = left.get(entry.text(), Moved(entry, ()))
        left[entry.text()] = replace(before, movers=(*before.movers, item))
    if "dead" in keys:
        for entry in _names(keys["dead"].entries(), "on"):
            _check_switch(entry, item, left)
    return left


def refuse_unreturned(moved: Mapping[str, Moved]) -> None:
    """FileError at what was moved first and never comes back."""
    for name, each in moved.items():
        each.node.fail(f'"{name}" is moved and no later item returns it; add "returns: {name}" to an action')


def _names(keys: Mapping[str, Node], key: str) -> tuple[Node, ...]:
    return keys[key].each() if key in keys else ()


def _check_return(entry: Node, item: Item, moved: Mapping[str, Moved], keys: Mapping[str, Node]) -> None:
    name = entry.text()
    if name not in moved:
        advice = nearest(name, moved, "out of place are") if moved else 'add "moves" to an item above'
        entry.fail(f'nothing above moves "{name}"; {advice}')
    if moved[name].may_be_left(item.when):
        keys["when"].fail(
            f'"{name}" may have been moved where this is not asked; '
            'remove "when", or write the same one as at what moves it'
        )


def _check_switch(entry: Node, item: Item, moved: Mapping[str, Moved]) -> None:
    name = entry.text()
    if name == NOTHING:
        return
    if name not in moved or moved[name].may_stay_put(item.when):
        entry.fail(f'"{name}" may be off here, so no life proves nothing; add "moves: {name}" to this item')
