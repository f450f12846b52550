"""What an item may refer to: the items above it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from runner.checklist.format.check import Condition, Item
from runner.document import Node, nearest
from runner.language.catalogue import Outcome

CONDITION_KEYS = ("item", "answer")


@dataclass(frozen=True, slots=True)
class Scope:
    """The items read so far, by name."""

    earlier: Mapping[str, Item] = field(default_factory=dict)
    is_recorded: bool = False
    """The text is that of a run's record: what an earlier version did not ask for may be missing."""
    has_airplane: bool = True
    """The check is for one airplane, which what it claims is held against."""

    def grown(self, item: Item) -> Scope:
        """The scope of the next item."""
        return replace(self, earlier={**self.earlier, item.name: item})

    def find(self, node: Node) -> Item:
        """The earlier item of that name; FileError names the nearest."""
        name = node.text()
        if name not in self.earlier:
            advice = (
                nearest(name, self.earlier, "items above")
                if self.earlier
                else "no item stands above this one"
            )
            node.fail(f'there is no item "{name}" above this one; {advice}')
        return self.earlier[name]

    def starter(self, node: Node) -> Item:
        """The item whose answer gives a gyro its power."""
        item = self.find(node)
        if not item.body.gives_power:
            node.fail(f'"{item.name}" gives no power; name the action or state that switches the gyro on')
        return item

    def condition(self, node: Node) -> Condition:
        """`when: {item: ..., answer: ...}`; the answers must be the earlier item's own."""
        keys = node.mapping(CONDITION_KEYS)
        item = self.find(keys["item"])
        if item.body.is_measured:
            keys["item"].fail(f'"{item.name}" has no named answers to wait for; name a choice or state item')
        known = tuple(each.label for each in item.responses if each.outcome is not Outcome.STOP)
        answers = keys["answer"]
        for entry in answers.each():
            if entry.text() in {each.label for each in item.responses} - {*known}:
                entry.fail(f'"{entry.text()}" stops the run, so nothing comes after it; name another answer')
        labels = tuple(entry.one_of(known) for entry in answers.each())
        if set(labels) == set(known):
            answers.fail(f'every answer of "{item.name}" is listed, so this decides nothing; remove "when"')
        return Condition(item.name, labels)
