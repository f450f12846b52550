"""Phrases as a check's author writes them, brought to the one form that is heard and compared."""

import re

from runner.document import Node

MOST_WORDS = 8
_DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_SEPARATORS = re.compile(r"[\s,.;:!?\-]+")
_WORD = re.compile(r"[a-z]+('[a-z]+)?")


def read_phrase(node: Node) -> str:
    """Lower case words with single spaces; FileError for what cannot be said word for word."""
    words = _SEPARATORS.sub(" ", node.text().lower()).split()
    for word in words:
        if any(letter.isdigit() for letter in word):
            node.fail(f'"{word}" holds a digit; write it as it is said, such as "one"')
        if not _WORD.fullmatch(word):
            node.fail(f'"{word}" cannot be said; use letters and spaces only')
    if not words:
        node.fail("a phrase needs words; write what is said")
    if len(words) > MOST_WORDS:
        node.fail(f"a phrase of {len(words)} words is too long; write {MOST_WORDS} words or fewer")
    return " ".join(words)


def phrase_of(name: str) -> str:
    """A name as it is said: `Comm 2` becomes `comm two`, digit by digit; signs are left out."""
    spelled = "".join(
        f" {_DIGITS[int(letter)]} " if letter in "0123456789" else letter for letter in name.lower()
    )
    return " ".join(re.sub(r"[^a-z' ]+", " ", spelled).split())


def read_phrases(node: Node) -> tuple[str, ...]:
    """One phrase or a list of different ones."""
    phrases: list[str] = []
    for entry in node.each():
        phrase = read_phrase(entry)
        if phrase in phrases:
            entry.fail(f'"{phrase}" is listed twice; keep one of them')
        phrases.append(phrase)
    return tuple(phrases)
