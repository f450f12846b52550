"""Branches: every way in which a check can go, by the answers that its conditions ask for."""

from collections.abc import Iterator, Mapping
from itertools import islice

from runner.checklist.format.check import Check, Item

MOST_BRANCHES = 256
"""More than these are not walked; ten yes-or-no questions in one check would be no check."""

Branch = Mapping[str, str]
"""Answers by item: only those of items that some condition names."""


def branches(check: Check) -> tuple[Branch, ...]:
    """All branches; a check without conditions has one, which is empty."""
    deciding = {item.when.item for item in check.items if item.when is not None}
    return tuple(islice(_grow([item for item in check.items if item.name in deciding], {}), MOST_BRANCHES))


def applies(item: Item, branch: Branch) -> bool:
    """Whether the item is asked in the branch."""
    return item.when is None or branch.get(item.when.item) in item.when.labels


def in_words(branch: Branch) -> str:
    """` when "radio fit" is "old set"`, for messages; nothing for a check without conditions."""
    if not branch:
        return ""
    return " when " + " and ".join(f'"{item}" is "{label}"' for item, label in branch.items())


def _grow(deciding: list[Item], branch: Branch) -> Iterator[Branch]:
    if not deciding:
        yield branch
        return
    item, *rest = deciding
    if not applies(item, branch):
        yield from _grow(rest, branch)
        return
    for response in item.responses:
        yield from _grow(rest, {**branch, item.name: response.label})
