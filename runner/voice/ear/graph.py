"""The phone graph of the phrases in force: every state a recording can be in while one of them is said."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from runner.language.catalogue import Unit
from runner.voice.ear.automaton import Arc, Automaton, word_automaton
from runner.voice.ear.lexicon import Lexicon, Pronunciation
from runner.voice.ear.network_phone import BLANK
from runner.voice.port import More

Spoken = tuple[Pronunciation, ...]
"""A word by its sound: all its pronunciations. Words that sound alike are one."""

Ints = npt.NDArray[np.intp]

NO_ARC: Final = -1


@dataclass(frozen=True, slots=True)
class Graph:
    """States and the edges between them, each edge also from a state to itself.

    A state is a phone of a word's pronunciation, or the blank after it, or the blank at a
    junction between words; labels are the network's outputs that it emits.
    """

    labels: Ints
    """Output of each state."""
    sources: Ints
    """Start of each edge; edges are ordered by their end."""
    targets: Ints
    """End of each edge."""
    groups: Ints
    """For each state, its first edge in that order."""
    arcs: Ints
    """Arc (word) that a phone state belongs to; NO_ARC for the blank at a junction."""
    firsts: Ints
    """States that begin a word."""
    starts: Ints
    """States that a recording can begin in."""
    ends: Ints
    """States that it can end in."""
    end_junctions: Ints
    """Junction of each of `ends`."""
    words: tuple[Arc[Spoken], ...]
    """The arcs."""
    has_more: frozenset[int]
    """Junctions from which a longer phrase goes on."""
    has_unit: frozenset[int]
    """Those from which only a unit goes on, and then nothing."""
    phrases: dict[tuple[Spoken, ...], str]
    """The phrase of each path; of phrases that sound alike, the first."""

    def phrase(self, arcs: Sequence[int]) -> str:
        """The text of a path of arcs."""
        return self.phrases[tuple(self.words[arc].label for arc in arcs)]

    def get_more(self, junction: int) -> More:
        """What may follow a phrase that ends at this junction."""
        if junction not in self.has_more:
            return More.NOTHING
        return More.UNIT if junction in self.has_unit else More.WORDS


def phrase_graph(phrases: Sequence[str], lexicon: Lexicon) -> Graph:
    """Build the graph of all phrases; each of their words must have a pronunciation."""
    spoken: dict[tuple[Spoken, ...], str] = {}
    for phrase in phrases:
        spoken.setdefault(lexicon.spoken(phrase), phrase)
    automaton = word_automaton(list(spoken))
    units = frozenset(lexicon.spoken(unit)[0] for unit in (*Unit, *(unit.singular for unit in Unit)))
    return _Builder(automaton).graph(spoken, units)


class _Builder:
    """Lays out the states: first the junctions' blanks, then each word's pronunciations."""

    def __init__(self, automaton: Automaton[Spoken]) -> None:
        self._automaton = automaton
        self._labels = [BLANK] * automaton.size
        self._arcs = [NO_ARC] * automaton.size
        self._edges: list[tuple[int, int]] = []
        self._entering: list[list[int]] = [[] for _ in range(automaton.size)]
        self._leaving: list[list[int]] = [[] for _ in range(automaton.size)]

    def graph(self, spoken: dict[tuple[Spoken, ...], str], units: frozenset[Spoken]) -> Graph:
        """Everything joined."""
        for number, arc in enumerate(self._automaton.arcs):
            for pronunciation in arc.label:
                self._add_word(number, arc, pronunciation)
        for junction in range(self._automaton.size):
            self._join(junction)
        self._edges += [(state, state) for state in range(len(self._labels))]
        edges = np.array(sorted(self._edges, key=lambda edge: (edge[1], edge[0])), dtype=np.intp)
        ends = [(state, q) for q in sorted(self._automaton.finals) for state in (q, *self._entering[q])]
        return Graph(
            labels=np.array(self._labels, dtype=np.intp),
            sources=edges[:, 0].copy(),
            targets=edges[:, 1].copy(),
            groups=np.searchsorted(edges[:, 1], np.arange(len(self._labels))),
            arcs=np.array(self._arcs, dtype=np.intp),
            firsts=np.array(sorted({s for states in self._leaving for s in states}), dtype=np.intp),
            starts=np.array([0, *self._leaving[0]], dtype=np.intp),
            ends=np.array([state for state, _ in ends], dtype=np.intp),
            end_junctions=np.array([q for _, q in ends], dtype=np.intp),
            words=self._automaton.arcs,
            has_more=frozenset(arc.start for arc in self._automaton.arcs),
            has_unit=self._before_units(units),
            phrases=spoken,
        )

    def _before_units(self, units: frozenset[Spoken]) -> frozenset[int]:
        """Final junctions from which units alone lead on, each to an end."""
        starts = {arc.start for arc in self._automaton.arcs}
        others = {arc.start for arc in self._automaton.arcs if arc.label not in units or arc.end in starts}
        return self._automaton.finals - others

    def _add_word(self, number: int, arc: Arc[Spoken], pronunciation: Pronunciation) -> None:
        previous = NO_ARC
        for phone in pronunciation:
            state = self._add_state(phone, number)
            if previous == NO_ARC:
                self._leaving[arc.start].append(state)
            else:
                blank = self._add_state(BLANK, number)
                self._edges += [(previous, blank), (blank, state)]
                self._link(previous, state)
            previous = state
        self._entering[arc.end].append(previous)

    def _add_state(self, label: int, arc: int) -> int:
        self._labels.append(label)
        self._arcs.append(arc)
        return len(self._labels) - 1

    def _link(self, source: int, target: int) -> None:
        """Straight on, without a blank: not between two equal phones, which would be heard as one."""
        if self._labels[source] != self._labels[target]:
            self._edges.append((source, target))

    def _join(self, junction: int) -> None:
        for source in self._entering[junction]:
            self._edges.append((source, junction))
            for target in self._leaving[junction]:
                self._link(source, target)
        self._edges += [(junction, target) for target in self._leaving[junction]]
