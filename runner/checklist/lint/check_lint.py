"""Lint: published rules of checklist design, asked of a check that has loaded.

Guidelines by number are those of appendix A of NASA CR-177549 (Degani and Wiener, 1990).
"""

from collections.abc import Callable, Iterable, Iterator
from typing import Protocol

from runner.checklist.format.check import Check
from runner.checklist.lint.caution_rule import judge_cautions
from runner.checklist.lint.finding import Finding, Grade, found
from runner.checklist.lint.shape import judge_shape
from runner.checklist.lint.wording_rule import judge_vocabulary, judge_wording


class Confusion(Protocol):
    """Two phrases that may be in force together and mean different things."""

    @property
    def item(self) -> str:
        """Name of the item to reword."""
        ...

    @property
    def is_same(self) -> bool:
        """Whether they are the very same phrase."""
        ...

    @property
    def message(self) -> str:
        """What is wrong and what to do."""
        ...


def lint(
    check: Check,
    confusions: Callable[[Check], Iterable[Confusion]] | None = None,
    is_known: Callable[[str], bool] | None = None,
) -> tuple[Finding, ...]:
    """Everything to look at, in the order of the file.

    `confusions` finds phrases that clash or sound alike, and `is_known` tells whether a dictionary has a
    word: both need a language, which a check does not know.
    """
    findings = [*judge_cautions(check), *judge_shape(check), *judge_wording(check)]
    if confusions is not None:
        findings += _confused(check, confusions(check))
    if is_known is not None:
        findings += judge_vocabulary(check, is_known)
    return tuple(sorted(findings, key=lambda finding: (finding.place.line, finding.place.column)))


def _confused(check: Check, confusions: Iterable[Confusion]) -> Iterator[Finding]:
    for confusion in confusions:
        grade = Grade.ERROR if confusion.is_same else Grade.WARNING
        yield found(check, check.item(confusion.item), grade, confusion.message)
