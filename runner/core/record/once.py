"""Worked out once: what a function finds out of a progress is kept with it and never worked out again."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from runner.core.record.progress import Progress

Found = TypeVar("Found")


def once(work: Callable[[Progress], Found]) -> Callable[[Progress], Found]:
    """The function with a memory: a progress never changes, so neither does what follows from it."""
    key = work.__qualname__

    @wraps(work)
    def recalled(progress: Progress) -> Found:
        known = progress.known
        if key not in known:
            known[key] = work(progress)
        found: Found = known[key]
        return found

    return recalled


def hand_on(found: str, before: Progress, after: Progress) -> None:
    """What was found out of `before` is true of `after` as well: nothing that it rests on has changed."""
    if found in before.known:
        after.known[found] = before.known[found]
