"""What synthetic voices say for training: numbers, standard words, cockpit phrases, and broad English."""

import random
from collections.abc import Callable
from typing import Final

DIGITS: Final = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
]
TEENS: Final = [
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
]
TENS: Final = [
    "twenty",
    "thirty",
    "forty",
    "fifty",
    "sixty",
    "seventy",
    "eighty",
    "ninety",
]
UNITS: Final = [
    "volts",
    "amps",
    "amperes",
    "seconds",
    "degrees",
    "percent",
    "minutes",
]
SHORT: Final = ("yes no up down left right on off stop go " + " ".join(DIGITS)).split()
STANDARD: Final = [
    "say again",
    "standby",
    "continue",
    "correction",
    "disregard",
    "negative",
    "affirm",
    "confirm",
    "unable",
    "read back",
    "roger",
    "put off",
    "why",
    "note",
    "abandon check",
    "check complete",
    "wilco",
    "affirmative",
    "monitor",
    "cancel",
    "verify",
    "acknowledge",
]

_SIDES: Final = (
    "left right both standby pilot copilot main reserve number one|number two|upper lower".replace(
        "|", " "
    ).split()
)
_THINGS: Final = [
    "gyro",
    "flag",
    "lamp",
    "light",
    "selector",
    "bus",
    "battery",
    "generator",
    "horizon",
    "attitude indicator",
    "compass",
    "radio",
    "com one",
    "com two",
    "nav",
    "transponder",
    "altimeter",
    "airspeed",
    "turn needle",
    "ammeter",
    "voltmeter",
    "annunciator",
    "breaker",
    "dimmer",
    "panel light",
    "heater",
    "pump",
    "fan",
    "clock",
    "master",
    "inverter",
    "alternator",
    "avionics",
    "stall warning",
    "gear lights",
    "flaps",
    "trim",
    "beacon",
    "needle",
    "display",
    "screen",
    "caution",
    "warning",
    "switch",
    "heading",
    "course",
    "marker",
    "audio",
    "intercom",
]
_STATES: Final = [
    "pulled",
    "lit",
    "out",
    "on",
    "off",
    "dead",
    "alive",
    "no movement",
    "normal",
    "reserve",
    "emergency",
    "essential",
    "open",
    "closed",
    "up",
    "down",
    "steady",
    "flashing",
    "dark",
    "dim",
    "bright",
    "stuck",
    "erect",
    "spinning",
    "complete",
    "set",
    "armed",
    "in",
    "tested",
    "failed",
    "moving",
    "zero",
    "green",
    "amber",
    "red",
    "white",
    "blank",
    "stable",
    "toppled",
    "flag pulled",
    "flag in view",
    "out of view",
    "running",
    "stopped",
    "cold",
    "hot",
    "low",
    "high",
    "full",
    "empty",
    "clear",
    "free",
    "locked",
    "released",
    "in",
    "centred",
    "level",
    "silent",
    "loud",
]


_OH: Final = {"zero": "oh"}


def _below_hundred(rng: random.Random) -> str:
    number = rng.randrange(100)
    if number < 10:
        return DIGITS[number]
    if number < 20:
        return TEENS[number - 10]
    ten = TENS[number // 10 - 2]
    return ten if number % 10 == 0 else f"{ten} {DIGITS[number % 10]}"


def number(rng: random.Random) -> str:
    """A number as pilots say it: digit by digit or grouped, with decimal, point, or bare tenths."""
    form = rng.randrange(5)
    if form == 0:
        whole = " ".join(rng.choice(DIGITS) for _ in range(rng.randint(1, 3)))
    elif form == 4 and rng.random() < 0.3:
        whole = f"{rng.choice(DIGITS[1:])} {rng.choice(('hundred', 'thousand'))}"
    elif form in {1, 2}:
        whole = " ".join(rng.choice(DIGITS) for _ in range(2))
    else:
        whole = _below_hundred(rng)
    tail = rng.choice(("", " decimal", " point", " decimal", " point", " "))
    if tail:
        tail = f"{tail.rstrip()} {rng.choice(DIGITS)}"
    if rng.random() < 0.3:
        head, *rest = whole.split()
        whole, tail = " ".join([head, *(_OH.get(word, word) for word in rest)]), tail.replace("zero", "oh")
    unit = rng.random()
    before = f"{rng.choice(UNITS)} " if unit < 0.12 else ""
    after = f" {rng.choice(UNITS)}" if 0.12 <= unit < 0.3 else ""
    return f"{before}{whole}{tail}{after}"


def cockpit(rng: random.Random) -> str:
    """A short report in the manner of a check: side, thing, state, in part."""
    parts = [
        rng.choice(_SIDES) if rng.random() < 0.45 else "",
        rng.choice(_THINGS) if rng.random() < 0.65 else "",
        rng.choice(_STATES) if rng.random() < 0.85 else "",
    ]
    return " ".join(part for part in parts if part) or rng.choice(_STATES)


def broad(rng: random.Random, words: list[str]) -> str:
    """One to five words at random; the more frequent (earlier in the list) the likelier."""
    count = rng.choices((1, 2, 3, 4, 5), (45, 20, 15, 12, 8))[0]
    return " ".join(words[int(len(words) * rng.random() ** 2.2)] for _ in range(count))


def sentence(rng: random.Random, words: list[str]) -> str:
    """One thing to say, of all kinds."""
    kinds: tuple[tuple[float, Callable[[], str]], ...] = (
        (0.12, lambda: rng.choice(SHORT)),
        (0.30, lambda: number(rng)),
        (0.38, lambda: rng.choice(STANDARD)),
        (0.58, lambda: cockpit(rng)),
        (1.01, lambda: broad(rng, words)),
    )
    draw = rng.random()
    return next(make for limit, make in kinds if draw < limit)()
