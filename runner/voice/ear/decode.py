"""Finds the phrase in force that a recording fits best, the next best, and how well free phones would fit.

Exact max-sum (Viterbi) search over the graph with CTC's rules (Graves et al. 2006), forwards
and backwards, so that the best score through every word is known and with it the runner-up.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from runner.voice.ear.graph import NO_ARC, Graph
from runner.voice.ear.network_phone import BLANK
from runner.voice.port import More

Scores = npt.NDArray[np.float32]

_NEVER: Final = np.float32(-1e9)
_FLOOR: Final = -12.0
"""A log probability is not taken below this, so that one bad frame cannot outweigh the rest."""


@dataclass(frozen=True, slots=True)
class Decoding:
    """The best phrase and the evidence for and against it, in nats."""

    text: str
    score: float
    """Log probability of the best path."""
    second: float
    """Of the best path of any other phrase; -1e9 when there is none."""
    free: float
    """Of the best path of any phones whatever: never below `score`."""
    peaks: Scores
    """The highest log probability of each phone of the phrase, in order."""
    shortfalls: Scores
    """Free minus best, frame by frame."""
    first_frame: int
    """Frame of the first phone."""
    last_frame: int
    """Frame of the last phone."""
    outside: float
    """Log odds against silence, summed over the frames before and after the phrase."""
    more: More
    """What a phrase in force may have after this one."""


def decode(posteriors: Scores, graph: Graph, least_quiet: int = 0) -> Decoding | None:
    """Search; posteriors are log probabilities (frames, 40). None when too short for any phrase.

    Also None, at half the work, when fewer than `least_quiet` frames come after the best phrase.
    """
    emitted = np.maximum(posteriors, np.float32(_FLOOR))
    per_state = emitted[:, graph.labels]
    forward = _forward(per_state, graph)
    finals = forward[-1, graph.ends]
    best_end = int(np.argmax(finals))
    score = float(finals[best_end])
    if score < _NEVER / 2:
        return None
    states = _traceback(forward, graph, int(graph.ends[best_end]))
    if least_quiet and (graph.labels[states[-least_quiet:]] != BLANK).any():
        return None
    arcs = _words_on(states, graph)
    second = max(
        _best_elsewhere(forward + _backward(per_state, graph), graph, arcs),
        float(np.max(finals[graph.end_junctions != graph.end_junctions[best_end]], initial=_NEVER)),
    )
    return _judged(emitted, graph, states, arcs=arcs, score=score, second=second)


def _forward(per_state: Scores, graph: Graph) -> Scores:
    """Best score of any path that reaches each state at each frame."""
    reached = np.full(per_state.shape, _NEVER, np.float32)
    reached[0, graph.starts] = per_state[0, graph.starts]
    for frame in range(1, len(per_state)):
        best = np.maximum.reduceat(reached[frame - 1, graph.sources], graph.groups)
        np.add(best, per_state[frame], out=reached[frame])
    return reached


def _backward(per_state: Scores, graph: Graph) -> Scores:
    """Best score of the frames still to come from each state at each frame."""
    order = np.argsort(graph.sources, kind="stable")
    targets = graph.targets[order]
    groups = np.searchsorted(graph.sources[order], np.arange(len(graph.labels)))
    remaining = np.full(per_state.shape, _NEVER, np.float32)
    remaining[-1, graph.ends] = 0
    for frame in range(len(per_state) - 2, -1, -1):
        coming = remaining[frame + 1] + per_state[frame + 1]
        remaining[frame] = np.maximum.reduceat(coming[targets], groups)
    return remaining


def _traceback(forward: Scores, graph: Graph, state: int) -> list[int]:
    """The states of the best path, one a frame."""
    states = [state]
    bounds = np.append(graph.groups, len(graph.sources))
    for frame in range(len(forward) - 2, -1, -1):
        candidates = graph.sources[bounds[state] : bounds[state + 1]]
        state = int(candidates[np.argmax(forward[frame, candidates])])
        states.append(state)
    return states[::-1]


def _words_on(states: list[int], graph: Graph) -> list[int]:
    """The arcs that a path goes through, in order."""
    arcs: list[int] = []
    for state in states:
        arc = int(graph.arcs[state])
        if arc != NO_ARC and (not arcs or arcs[-1] != arc):
            arcs.append(arc)
    return arcs


def _best_elsewhere(through: Scores, graph: Graph, arcs: list[int]) -> float:
    """Best score of a path with a word that the best path has not."""
    others = graph.firsts[~np.isin(graph.arcs[graph.firsts], arcs)]
    return float(through[:, others].max()) if len(others) else float(_NEVER)


def _judged(
    emitted: Scores, graph: Graph, states: list[int], *, arcs: list[int], score: float, second: float
) -> Decoding:
    labels = graph.labels[states]
    frames = np.arange(len(labels))
    taken = emitted[frames, labels]
    ceiling = emitted.max(axis=1)
    spoken = np.flatnonzero(labels != BLANK)
    first, last = int(spoken[0]), int(spoken[-1])
    quiet = ceiling - emitted[:, BLANK]
    return Decoding(
        text=graph.phrase(arcs),
        score=score,
        second=second,
        free=float(ceiling.sum()),
        peaks=_peaks(taken, np.asarray(states), labels),
        shortfalls=ceiling - taken,
        first_frame=first,
        last_frame=last,
        outside=float(quiet[:first].sum() + quiet[last + 1 :].sum()),
        more=graph.get_more(graph.words[arcs[-1]].end),
    )


def _peaks(taken: Scores, states: npt.NDArray[np.intp], labels: npt.NDArray[np.intp]) -> Scores:
    """The highest score within each run of frames in one phone's state."""
    spoken = labels != BLANK
    begins = np.flatnonzero(spoken & (np.diff(states, prepend=-1) != 0))
    return np.array([taken[b : _run_end(states, int(b))].max() for b in begins], np.float32)


def _run_end(states: npt.NDArray[np.intp], begin: int) -> int:
    changed = np.flatnonzero(states[begin:] != states[begin])
    return begin + int(changed[0]) if len(changed) else len(states)
