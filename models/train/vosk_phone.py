"""Phones and transitions of the Vosk model: silence, and each of the 39 phones by its place in a word."""

from typing import Final

PLACES: Final = ("B", "E", "I", "S")
"""Begins, ends, is inside a word, or is one by itself."""
SILENCE: Final = 1
COUNT: Final = 1 + 39 * len(PLACES)


def phone_id(number: int, place: str) -> int:
    """Kaldi's phone for the ear's phone 1 to 39."""
    return 2 + (number - 1) * len(PLACES) + PLACES.index(place)


def outputs(phone: int) -> tuple[int, int]:
    """The network's output that begins the phone, and the one that goes on with it."""
    number = 0 if phone == SILENCE else 1 + (phone - 2) // len(PLACES)
    return 2 * number, 2 * number + 1


def forward_id(phone: int) -> int:
    """Kaldi's transition that leaves the phone's state."""
    return 2 * phone


def loop_id(phone: int) -> int:
    """Kaldi's transition that stays in it."""
    return 2 * phone - 1


def word_boundaries() -> str:
    """graph/phones/word_boundary.int."""
    names = {"B": "begin", "E": "end", "I": "internal", "S": "singleton"}
    lines = [f"{SILENCE} nonword"]
    lines += [f"{phone_id(number, place)} {names[place]}" for number in range(1, 40) for place in PLACES]
    return "\n".join(lines) + "\n"
