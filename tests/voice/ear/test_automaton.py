"""The word automaton."""

from hypothesis import given
from hypothesis import strategies as st

from runner.voice.ear.automaton import Automaton, word_automaton


def paths(automaton: Automaton[str], junction: int = 0) -> set[tuple[str, ...]]:
    """All phrases of an automaton."""
    found: set[tuple[str, ...]] = {()} if junction in automaton.finals else set()
    for arc in automaton.arcs:
        if arc.start == junction:
            found |= {(arc.label, *rest) for rest in paths(automaton, arc.end)}
    return found


@given(st.sets(st.lists(st.sampled_from("abc"), min_size=1, max_size=4).map(tuple), min_size=1, max_size=20))
def test_it_holds_exactly_the_phrases(phrases: set[tuple[str, ...]]) -> None:
    """Nothing is lost and nothing is made up by sharing."""
    assert paths(word_automaton(sorted(phrases))) == phrases


def test_common_endings_are_shared() -> None:
    """1,000 three-digit numbers need four junctions and thirty arcs."""
    digits = "0123456789"
    automaton = word_automaton([(a, b, c) for a in digits for b in digits for c in digits])
    assert (automaton.size, len(automaton.arcs)) == (4, 30)
