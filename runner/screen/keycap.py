"""Which key gives which answer: an item's own keys, and one key per clock that stays all check long."""

from collections.abc import Iterable, Mapping
from string import ascii_lowercase
from typing import Final

from runner.checklist.model import Check, Item, Outcome, Response, SpinUp
from runner.language.meaning import Command, Meaning, Picked, Pulled, Stuck, Word
from runner.screen.view import Answer

BRIEFING: Final = (Answer("c", Word.CONTINUE.value, Command(Word.CONTINUE)),)
HOLDING: Final = BRIEFING
CONFIRMING: Final = (
    Answer("a", Word.AFFIRM.value, Command(Word.AFFIRM)),
    Answer("n", Word.NEGATIVE.value, Command(Word.NEGATIVE)),
)
_RESERVED: Final = frozenset(answer.key for answer in (*BRIEFING, *CONFIRMING))
"""Keys that a clock may not have, since it runs on while these are asked for."""


def item_answers(item: Item) -> tuple[Answer, ...]:
    """The named answers of an item with one key each; none for a reading or a spin-up."""
    if isinstance(item.body, SpinUp):
        return ()
    keys = _keys_for(item.responses, taken=())
    return tuple(
        _answer(key, response, Picked(item.name, response.label))
        for key, response in zip(keys, item.responses, strict=True)
    )


def clock_answers(check: Check) -> Mapping[str, tuple[Answer, Answer]]:
    """The pulled and the stuck answer of each spin-up item, by the item's name.

    Their keys clash with no other item's, so that a clock can be ended whatever is being asked.
    """
    taken = set(_RESERVED)
    for item in check.items:
        taken.update(answer.key for answer in item_answers(item))
    found = {}
    for item, body in check.clocks():
        keys = _keys_for((body.pulled, body.stuck), taken)
        taken.update(keys)
        found[item.name] = (
            _answer(keys[0], body.pulled, Pulled(item.name)),
            _answer(keys[1], body.stuck, Stuck(item.name)),
        )
    return found


def _answer(key: str, response: Response, meaning: Meaning) -> Answer:
    outcome = Outcome.SQUAWK if isinstance(meaning, Stuck) else response.outcome
    return Answer(key, response.label, meaning, outcome)


def _keys_for(responses: Iterable[Response], taken: Iterable[str]) -> tuple[str, ...]:
    """One free key for each response: its own, else a letter of its label, else any letter."""
    used = set(taken)
    keys = []
    for response in responses:
        wanted = (response.key, *response.label.lower(), *ascii_lowercase, *"[];'/=`")
        key = next(key for key in wanted if _is_free(key, used))
        used.add(key)
        keys.append(key)
    return tuple(keys)


def _is_free(key: str, used: set[str]) -> bool:
    return key in ascii_lowercase + "[];'/=`" and bool(key) and key not in used
