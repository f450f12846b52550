"""Sets of phrases in force, for calibration: what an ear would be told to expect around an utterance."""

import random
from typing import Final

from sentence import DIGITS, SHORT, STANDARD, TEENS, TENS, cockpit

VOLTS_TENTHS: Final = range(180, 321)


def spoken_volts(tenths: int) -> list[str]:
    """Every form of a voltage: digits or grouped; decimal, point or bare tenth; unit or none."""
    whole, tenth = divmod(tenths, 10)
    heads = [f"{DIGITS[whole // 10]} {DIGITS[whole % 10]}"]
    if whole < 20:
        heads.append(TEENS[whole - 10])
    else:
        ten = TENS[whole // 10 - 2]
        heads.append(ten if whole % 10 == 0 else f"{ten} {DIGITS[whole % 10]}")
    forms = [f"{head}{point} {DIGITS[tenth]}" for head in heads for point in (" decimal", " point", "")]
    forms += heads if tenth == 0 else []
    return [text for form in forms for text in (form, f"{form} volts", f"volts {form}")]


def all_volts() -> list[str]:
    """18.0 to 32.0 volts in every form."""
    return [form for tenths in VOLTS_TENTHS for form in spoken_volts(tenths)]


def near_miss(rng: random.Random, truth: str, words: list[str]) -> str:
    """The truth with a word changed, dropped or added: what an ear must tell from it."""
    parts = truth.split()
    at = rng.randrange(len(parts))
    draw = rng.random()
    if draw < 0.5 or len(parts) == 1:
        parts[at] = rng.choice(DIGITS if parts[at] in DIGITS else words)
    elif draw < 0.8:
        del parts[at]
    else:
        parts.insert(at, rng.choice(words))
    return " ".join(parts)


def expected(rng: random.Random, truth: str, words: list[str], volts: list[str]) -> list[str]:
    """Phrases in force of a random kind; the truth is among them in most cases where it could be."""
    kind = rng.random()
    if kind < 0.25:
        phrases = [*SHORT]
    elif kind < 0.35:
        phrases = [*DIGITS, *STANDARD]
    elif kind < 0.5:
        phrases = [*volts, *STANDARD]
    elif kind < 0.85:
        phrases = [cockpit(rng) for _ in range(rng.randint(1, 5))] + STANDARD
    else:
        phrases = rng.sample(words, rng.randint(2, 12)) + rng.sample(SHORT, 4)
    if truth and rng.random() < 0.3:
        phrases = [*phrases, *(near_miss(rng, truth, words) for _ in range(3))]
    if rng.random() < 0.65 and truth:
        return [*phrases, truth]
    return [phrase for phrase in phrases if phrase != truth or rng.random() < 0.5]
