"""Rules of a whole check: the call ends it, the selector comes back, a clock's words are its own."""

from collections.abc import Sequence
from typing import NoReturn

from runner.checklist.format.check import Item, Section
from runner.errors import FileError


def check_order(sections: Sequence[Section]) -> None:
    """FileError at the first item that breaks a rule of the whole."""
    items = [(section, item) for section in sections for item in section.items]
    _check_call(items)
    _check_restoration(items)
    _check_clock_words(items)


def _fail(where: tuple[Section, Item], message: str) -> NoReturn:
    section, item = where
    raise FileError(item.place, f'section "{section.title}": item "{item.name}": {message}')


def _check_call(items: Sequence[tuple[Section, Item]]) -> None:
    calls = [where for where in items if where[1].body.is_call]
    if len(calls) > 1:
        _fail(calls[1], f'a check has one call, and "{calls[0][1].name}" is one; remove one of them')
    if not calls:
        _fail(items[-1], 'the last item must be the completion call; add one with "call: ... complete"')
    if calls[0] is not items[-1]:
        _fail(calls[0], "the completion call must be the last item; move it to the end")


def _check_restoration(items: Sequence[tuple[Section, Item]]) -> None:
    away = None
    for where in items:
        item = where[1]
        if item.body.selects is not None:
            away = None if item.restores else where
    if away is not None:
        _fail(
            away,
            'the selector is moved here and nothing restores it; add "restores: true" to what puts it back',
        )


def _check_clock_words(items: Sequence[tuple[Section, Item]]) -> None:
    owners = {
        phrase: item.name
        for _, item in items
        if item.body.clock is not None
        for response in item.responses
        for phrase in response.phrases
    }
    for where in items:
        for response in where[1].responses:
            for phrase in response.phrases:
                owner = owners.get(phrase, where[1].name)
                if owner != where[1].name:
                    _fail(where, f'"{phrase}" belongs to the clock "{owner}" alone; write other words here')
