"""Named answers of an item, in the three ways that an author may write them.

`selected` is one answer that passes; `[one radio, two radios]` are several that pass;
`both lit: pass` and `left out: {means: squawk, say: [left lamp out], key: l}` say more.
"""

from collections.abc import Iterator, Mapping
from typing import Final

from runner.checklist.format.check import Response
from runner.checklist.format.phrase import read_phrase, read_phrases
from runner.document import Node
from runner.language.catalogue import Outcome

ANSWER_KEYS = ("means", "say", "key")
SPACE: Final = " "
"""Gives the expected answer of an item, whichever it is."""
HELP: Final = "?"
"""Shows the keys."""


def read_responses(node: Node) -> tuple[Response, ...]:
    """The answers in their order; FileError when two of them could not be told apart."""
    responses: list[Response] = []
    heard: dict[str, str] = {}
    keyed: dict[str, str] = {}
    for place, response in _each(node):
        if any(response.label == other.label for other in responses):
            place.fail(f'answer "{response.label}" is listed twice; keep one of them')
        for phrase in response.phrases:
            if phrase in heard:
                place.fail(f'"{phrase}" is also said for "{heard[phrase]}"; write different words for one')
            heard[phrase] = response.label
        if response.key and response.key in keyed:
            place.fail(f'key "{response.key}" also answers "{keyed[response.key]}"; write another letter')
        keyed[response.key] = response.label
        responses.append(response)
    return tuple(responses)


def _each(node: Node) -> Iterator[tuple[Node, Response]]:
    if isinstance(node.value, Mapping):
        for label, entry in node.entries().items():
            at = Node(label, entry.key_place or entry.place, node.context)
            if not label.strip():
                at.fail("an answer has no name; write one before the colon")
            yield at, _named(at, entry.within(f'answer "{label}"'))
    else:
        yield from ((entry, Response(entry.text(), (read_phrase(entry),))) for entry in node.each())


def _named(label: Node, entry: Node) -> Response:
    if isinstance(entry.value, str):
        return Response(label.text(), (read_phrase(label),), read_outcome(entry))
    keys = entry.mapping(optional=ANSWER_KEYS)
    return Response(
        label.text(),
        read_phrases(keys["say"]) if "say" in keys else (read_phrase(label),),
        read_outcome(keys["means"]) if "means" in keys else Outcome.PASS,
        read_key(keys["key"]) if "key" in keys else "",
    )


def read_names(node: Node) -> tuple[str, ...]:
    """One name or a list of different ones."""
    names = node.texts()
    for name in names:
        if names.count(name) > 1:
            node.fail(f'"{name}" is listed twice; keep one of them')
    return names


def read_outcome(node: Node) -> Outcome:
    """`pass`, `caution`, `squawk` or `stop`."""
    return Outcome(node.one_of(outcome.value for outcome in Outcome))


def read_key(node: Node) -> str:
    """One letter from a to z; the other keys have their meaning already."""
    if node.value == SPACE:
        node.fail("the space bar gives the expected answer of any item; write one small letter, a to z")
    key = node.text()
    if len(key) == 1 and key.isascii() and key.isupper():
        node.fail(f'"{key}" is a capital, and capitals are standard words; write one small letter, a to z')
    if key == HELP:
        node.fail(f'"{HELP}" shows which keys there are; write one small letter, a to z')
    if not (len(key) == 1 and key.isascii() and key.islower()):
        node.fail(f'"{key}" is not a key; write one small letter, a to z')
    return key
