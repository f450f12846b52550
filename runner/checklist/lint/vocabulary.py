"""Lint of the words: what no dictionary can pronounce is heard by rule, which is a guess."""

from collections.abc import Callable, Iterator

from runner.checklist.format.check import Check
from runner.checklist.lint.finding import Finding, Grade, found


def judge_vocabulary(check: Check, is_known: Callable[[str], bool]) -> Iterator[Finding]:
    """Advice on each unknown word of an answer, where it comes first."""
    told = set(check.pronounce)
    for item in check.items:
        for word in (word for each in item.responses for phrase in each.phrases for word in phrase.split()):
            if word not in told and not is_known(word):
                message = f'no dictionary has "{word}"; add it to "pronounce", or use another word'
                yield found(check, item, Grade.ADVICE, message)
            told.add(word)
