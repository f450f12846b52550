"""Findings as a person reads them: what repeats is told once."""

from dataclasses import replace
from pathlib import Path

from runner.checklist.lint.finding import Finding, Grade, folded
from runner.errors import Place


def finding(line: int, message: str, grade: Grade = Grade.WARNING) -> Finding:
    """One at that line of an invented file."""
    return Finding(Place(Path("x.yaml"), line, 9), grade, message)


ALIKE = [
    finding(10 * n, f'section "One": item "lamp {n}": "lit" sounds much like "{n} left" ({40 + n}% alike)')
    for n in range(1, 41)
]


def test_what_repeats_is_one_line_with_its_places() -> None:
    """Forty items that differ in nothing but names and figures are against one rule."""
    (line,) = folded(ALIKE)
    assert line.startswith('x.yaml:10:9: warning: section "One": item "lamp 1": "lit" sounds much like')
    assert "(and 39 more alike, at 20:9, 30:9," in line
    assert line.endswith("130:9 and 27 other places; --json lists all)")


def test_a_few_are_all_placed() -> None:
    """Nothing is left to look up."""
    (line,) = folded(ALIKE[:3])
    assert line.endswith("(and 2 more alike, at 20:9, 30:9)")


def test_what_differs_in_more_than_names_stays_apart() -> None:
    """Another rule, another grade, another file."""
    one = finding(1, 'no "why"')
    others = [finding(2, 'no "remedy" here'), finding(3, 'no "why"', Grade.ADVICE)]
    elsewhere = replace(one, place=Place(Path("y.yaml"), 1, 9))
    assert folded([one, *others, elsewhere]) == tuple(map(str, [one, *others, elsewhere]))


def test_lists_of_names_of_any_length_are_alike() -> None:
    """`"a"` and `"a", "b" and "c"`."""
    two = [finding(1, '"a" is never shown'), finding(2, '"a", "b" and "c" is never shown')]
    assert len(folded(two)) == 1
