"""Kinds that are answered by name: their keys, their phrases, and what an author must let them answer."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import ClassVar, Self

from runner.checklist.format.check import Body, Response
from runner.checklist.format.named_answer import read_responses
from runner.checklist.format.scope import Scope
from runner.document import Node
from runner.language.catalogue import YIELDING, Outcome
from runner.language.force import normal_phrase
from runner.language.meaning import Meaning, Picked


@dataclass(frozen=True, slots=True)
class Named(Body):
    """One of several named answers."""

    failing: ClassVar[int] = 0
    """So many of its answers fail at least; one passes."""

    responses: tuple[Response, ...]

    @classmethod
    def read(cls, node: Node, _scope: Scope) -> Self:
        """Its answers, where they are all that its author writes."""
        return cls(need(node, failing=cls.failing))

    def named(self) -> tuple[Response, ...]:
        """The answers, in the order of the file."""
        return self.responses

    def keyed(self, keys: Mapping[str, str]) -> Self:
        """The same with these keys, by labels."""
        return replace(self, responses=tuple(replace(one, key=keys[one.label]) for one in self.responses))

    def sayings(self, name: str) -> Iterator[tuple[str, Meaning]]:
        """Every answer's phrases; who may say "affirm" for one may say "affirmative" too."""
        for response in self.responses:
            phrases = [normal_phrase(words, name) for words in response.phrases]
            for word in YIELDING:
                if not set(word.phrases).isdisjoint(phrases):
                    phrases += word.phrases
            yield from ((phrase, Picked(name, response.label)) for phrase in dict.fromkeys(phrases))


def need(node: Node, *, passing: int = 1, failing: int = 0) -> tuple[Response, ...]:
    """The answers; FileError where too few of them pass or fail."""
    responses = read_responses(node)
    good = sum(response.outcome is Outcome.PASS for response in responses)
    if good < passing:
        wanted = "an answer that passes" if passing == 1 else f"{passing} answers to choose from"
        node.fail(f'{wanted} is missing; add one, such as "both on: pass"')
    if len(responses) - good < failing:
        node.fail('nothing here can fail, so nothing is checked; add an answer such as "left out: squawk"')
    return responses
