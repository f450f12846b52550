"""Lint of the wording: empty answers, challenges in capitals, words too short to hear or unknown."""

from collections.abc import Callable, Iterator

from runner.checklist.format.check import Check, Item
from runner.checklist.lint.finding import Finding, Grade, found
from runner.language.catalogue import Outcome

GENERIC = frozenset(
    (
        *("checked", "check", "set", "done", "ok", "okay", "complete", "completed", "as required"),
        *("good", "fine", "yes", "affirm", "on"),
    )
)
"""Answers that say neither the state nor the value: guideline 4, and AC 120-71B 5.4."""
SHORTEST_WORD = 5
"""Letters of an only word; our own choice, shorter ones are easily misheard."""
_LONG_WORD = 5


def judge_wording(check: Check) -> Iterator[Finding]:
    """Findings on what is said and answered."""
    for item in check.items:
        yield from _generic(check, item)
        yield from _short(check, item)
        if _shouts(item.challenge):
            message = "the challenge is in capitals, which read slower; use lower case (NASA CR-177605 6.4)"
            yield found(check, item, Grade.WARNING, message)
        if item.body.is_call and not _says(item, "complete"):
            message = 'the call does not say "complete"; the last words end the check (CR-177549 App. A 6)'
            yield found(check, item, Grade.WARNING, message)


def _generic(check: Check, item: Item) -> Iterator[Finding]:
    passing = [
        phrase
        for response in item.responses
        if response.outcome is Outcome.PASS
        for phrase in response.phrases
    ]
    if passing and all(phrase in GENERIC for phrase in passing):
        message = (
            f'the answer "{passing[0]}" does not say what is seen; '
            "answer with the state or the value (CR-177549 App. A 4)"
        )
        yield found(check, item, Grade.WARNING, message)


def _short(check: Check, item: Item) -> Iterator[Finding]:
    for response in item.responses:
        for phrase in response.phrases:
            if " " not in phrase and len(phrase) < SHORTEST_WORD:
                message = f'"{phrase}" alone is easily misheard; say two words'
                yield found(check, item, Grade.ADVICE, message)


def _shouts(challenge: str) -> bool:
    """Whether whole words are in capitals; abbreviations such as DME stay what they are."""
    words = challenge.split()
    return any(word.isupper() and len(word) >= _LONG_WORD for word in words) or (
        len(words) > 1 and challenge.isupper()
    )


def _says(item: Item, word: str) -> bool:
    return all(word in phrase.split() for response in item.responses for phrase in response.phrases)


def judge_vocabulary(check: Check, is_known: Callable[[str], bool]) -> Iterator[Finding]:
    """Advice on each unknown word of an answer, where it comes first."""
    told = set(check.pronounce)
    for item in check.items:
        for word in (word for each in item.responses for phrase in each.phrases for word in phrase.split()):
            if word not in told and not is_known(word):
                message = f'no dictionary has "{word}"; add it to "pronounce", or use another word'
                yield found(check, item, Grade.ADVICE, message)
            told.add(word)
