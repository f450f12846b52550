"""Builds graph/HCLr.fst and graph/Gr.fst with OpenFst's tools (Debian: libfst-tools, libfst*-plugins-base).

HCLr: the lexicon as a tree of phones, optional silence between words, and [unk] as a loop of phones;
label look-ahead, so that Vosk can join it with any grammar while it runs. Gr: single words by frequency.
"""

import os
import subprocess
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final

from vosk_phone import SILENCE, forward_id, loop_id, phone_id

UNKNOWN: Final = "[unk]"
PLUGINS: Final = ":".join(map(str, sorted(Path("/usr/lib").glob("*/fst/*"))))
"""Where Debian puts OpenFst's look-ahead types."""

ROOT: Final = 1
"""Where words begin; silence comes before it, once: a silence after a silence would be free to gain score."""

Words = Mapping[str, list[tuple[int, ...]]]
Table = Sequence[Sequence[float]]


class Arcs:
    """Arcs of a transducer in OpenFst's text form; words end at state 0, the start, and begin at ROOT."""

    def __init__(self) -> None:
        self.lines: list[str] = []
        self.states = 2

    def add(self, source: int, target: int, *, heard: int = 0, said: int = 0, cost: float = 0.0) -> None:
        """One arc."""
        self.lines.append(f"{source}\t{target}\t{heard}\t{said}\t{cost:.4f}")

    def state(self) -> int:
        """A new state."""
        self.states += 1
        return self.states - 1

    def phone_end(self, phone: int, word: int) -> int:
        """A state of a word's last phone, by whatever arcs it is reached."""
        state = self.state()
        self.add(state, state, heard=loop_id(phone_id(phone, "E")))
        self.add(state, 0, said=word)
        return state

    def phone(self, source: int, phone: int, cost: float = 0.0) -> int:
        """A phone after a state; returns its own state."""
        state = self.state()
        self.add(source, state, heard=forward_id(phone), cost=cost)
        self.add(state, state, heard=loop_id(phone))
        return state


def add_words(arcs: Arcs, words: Words, numbers: Mapping[str, int]) -> None:
    """The tree."""
    nodes: dict[tuple[int, int], int] = {}
    for word, ways in words.items():
        for way in dict.fromkeys(ways):
            state = ROOT
            for n, number in enumerate(way):
                place = ("S" if n == 0 else "E") if n == len(way) - 1 else ("B" if n == 0 else "I")
                key = (state, phone_id(number, place))
                if key not in nodes:
                    nodes[key] = arcs.phone(*key)
                state = nodes[key]
            arcs.add(state, 0, said=numbers[word])


def add_unknown(arcs: Arcs, number: int, entry: float, follows: Table) -> None:
    """Two phones or more, any; each costs what the bigram of training says it does."""
    inside = {p: arcs.phone(ROOT, phone_id(p, "B"), entry + follows[0][p]) for p in range(1, 40)}
    middle = {p: arcs.state() for p in range(1, 40)}
    for p, state in middle.items():
        arcs.add(state, state, heard=loop_id(phone_id(p, "I")))
    ends = {p: arcs.phone_end(p, number) for p in range(1, 40)}
    for before in range(1, 40):
        for p in range(1, 40):
            for source in (inside[before], middle[before]):
                arcs.add(source, middle[p], heard=forward_id(phone_id(p, "I")), cost=follows[before][p])
                arcs.add(source, ends[p], heard=forward_id(phone_id(p, "E")), cost=follows[before][p])


def lexicon_lines(words: Words, numbers: Mapping[str, int], entry: float, follows: Table) -> list[str]:
    """The whole of HCL as text."""
    arcs = Arcs()
    arcs.add(0, ROOT)
    arcs.add(arcs.phone(0, SILENCE), ROOT)
    add_words(arcs, words, numbers)
    add_unknown(arcs, numbers[UNKNOWN], entry, follows)
    return [*arcs.lines, "0", f"{ROOT}"]


def run(*command: str) -> None:
    """An OpenFst tool, its plugins found."""
    environment = {**os.environ, "LD_LIBRARY_PATH": PLUGINS}
    subprocess.run(command, check=True, env=environment)


def relabelled(file: Path) -> dict[int, int]:
    """OpenFst's new numbers of output labels."""
    pairs = (line.split() for line in file.read_text(encoding="utf-8").splitlines())
    return {int(old): int(new) for old, new in pairs}


def grammar_lines(costs: Mapping[str, float], numbers: Mapping[str, int]) -> Iterator[str]:
    """Any words after one another."""
    for word, cost in sorted(costs.items(), key=lambda item: numbers[item[0]]):
        yield f"0\t0\t{numbers[word]}\t{numbers[word]}\t{cost:.3f}"
    yield "0"


def build(out: Path, words: Words, costs: Mapping[str, float], entry: float, follows: Table) -> None:
    """Write the two graphs into a folder."""
    out.mkdir(parents=True, exist_ok=True)
    numbers = {word: n for n, word in enumerate([*words, UNKNOWN], start=1)}
    text, plain, pairs = out / "hcl.txt", out / "hcl.fst", out / "pairs"
    text.write_text("\n".join(lexicon_lines(words, numbers, entry, follows)) + "\n", encoding="utf-8")
    run("fstcompile", str(text), str(plain))
    run("fstarcsort", "--sort_type=olabel", str(plain), str(plain))
    run("fstconvert", "--fst_type=olabel_lookahead", f"--save_relabel_opairs={pairs}", str(plain),
        str(out / "HCLr.fst"))  # fmt: skip
    new = relabelled(pairs)
    renumbered = {word: new[number] for word, number in numbers.items()}
    symbols = out / "words.txt"
    listed = sorted(renumbered.items(), key=lambda item: item[1])
    symbols.write_text("<eps> 0\n" + "".join(f"{word} {n}\n" for word, n in listed), encoding="utf-8")
    text.write_text("\n".join(grammar_lines(costs, renumbered)) + "\n", encoding="utf-8")
    run("fstcompile", "--fst_type=const", str(text), str(out / "Gr.fst"))
    for path in (text, plain, pairs):
        path.unlink()
