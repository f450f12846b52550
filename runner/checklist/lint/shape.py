"""Lint of the shape: how items are grouped, ordered and repeated."""

from collections.abc import Iterator

from runner.checklist.format.check import Check, Item, Section
from runner.checklist.lint.finding import Finding, Grade, found

MOST_ITEMS = 10
"""NUREG/CR-1278 Table 20-7 (from memory): omissions are three times as likely in lists of more than ten."""


def judge_shape(check: Check) -> Iterator[Finding]:
    """Long sections, critical items that come late, missing reasons, repeats, choices without effect."""
    for section in check.sections:
        yield from _length(check, section)
        yield from _critical_first(check, section)
    for item in check.items:
        if not item.why:
            yield found(check, item, Grade.WARNING, 'no reason is given; add "why: ..."')
    yield from _repeats(check)
    yield from _choices(check)


def _length(check: Check, section: Section) -> Iterator[Finding]:
    asked = _most_asked(section)
    if asked > MOST_ITEMS:
        over = section.items[MOST_ITEMS]
        message = (
            f"the section has {asked} items, more than {MOST_ITEMS} (NUREG/CR-1278 Table 20-7); "
            "start a new section before this item (CR-177549 App. A 7)"
        )
        yield found(check, over, Grade.WARNING, message)


def _most_asked(section: Section) -> int:
    """Items of the section; alternatives that hang on the same earlier item count as one."""
    plain = sum(item.when is None for item in section.items)
    branches = {item.when.item for item in section.items if item.when is not None}
    return plain + len(branches)


def _critical_first(check: Check, section: Section) -> Iterator[Finding]:
    earlier: Item | None = None
    for item in section.items:
        if item.critical and earlier is not None:
            message = f'critical, but after "{earlier.name}", which is not; move it up (CR-177549 App. A 10)'
            yield found(check, item, Grade.WARNING, message)
        if not item.critical:
            earlier = earlier or item


def _repeats(check: Check) -> Iterator[Finding]:
    """Guideline 11: only critical items are worth asking twice."""
    first: dict[str, Item] = {}
    for item in check.items:
        before = first.setdefault(item.challenge.casefold(), item)
        if before is item or (item.critical and before.critical) or (item.when and before.when):
            continue
        message = f'asks the same as "{before.name}"; only critical items are repeated (CR-177549 App. A 11)'
        yield found(check, item, Grade.WARNING, message)


def _choices(check: Check) -> Iterator[Finding]:
    used = {item.when.item for item in check.items if item.when is not None}
    for item in check.items:
        if item.body.is_fork and item.name not in used:
            yield found(
                check, item, Grade.WARNING, 'no item depends on this choice; add "when" to one, or drop it'
            )
