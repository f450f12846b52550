"""The phone graph."""

import numpy as np

from runner.voice.ear.graph import phrase_graph
from runner.voice.ear.lexicon import Lexicon


def test_every_state_has_an_edge_from_itself() -> None:
    """So that a phone may last."""
    graph = phrase_graph(("both lit", "left out"), Lexicon())
    loops = graph.targets[graph.sources == graph.targets]
    assert sorted(loops.tolist()) == list(range(len(graph.labels)))


def test_edges_are_grouped_by_their_end() -> None:
    """The search relies on it."""
    graph = phrase_graph(("both lit", "left out", "left"), Lexicon())
    assert (np.diff(graph.targets) >= 0).all()
    assert (graph.targets[graph.groups] == np.arange(len(graph.labels))).all()


def test_equal_phones_of_neighbouring_words_need_a_blank_between() -> None:
    """`bus stop`: two S in a row would be heard as one (CTC, Graves et al. 2006)."""
    graph = phrase_graph(("bus stop",), Lexicon())
    same = graph.labels[graph.sources] == graph.labels[graph.targets]
    assert (graph.sources == graph.targets)[same].all()


def test_phrases_that_sound_alike_are_one_and_the_first_gives_its_text() -> None:
    """Niner is how nine is said on the radio."""
    graph = phrase_graph(("two nine", "two niner"), Lexicon())
    assert list(graph.phrases.values()) == ["two nine"]
