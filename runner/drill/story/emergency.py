"""The emergency: at night in cloud the generators go, after a smell that could be anything.

Recognise, select the reserve, say what is left, hand over to the seat that keeps the fuller set, shed, say
for how long, choose where to go. Every true answer is reckoned from the airplane with its faults in it; the
check is written out as any other, so that the very machine runs it.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Final

import numpy as np

from runner.airplane.life.lively import Picture
from runner.airplane.life.seat import fuller_seat
from runner.airplane.minutes.rundown import Leg, Runner
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import Seat, Sense
from runner.airplane.model.source import Generator
from runner.airplane.model.wiring import Keep
from runner.drill.played.hidden import Hidden, HiddenKind
from runner.drill.played.played_airplane import PlayedAirplane
from runner.drill.played.setting import Setting, batteries_of
from runner.drill.story.drill_story import DrillStory
from runner.drill.story.interruption import interruptions_of
from runner.drill.story.solvable import told_apart

ONSET_SECONDS: Final = 12.0
"""After so long the generators go; ours."""
BANDS: Final = {15: "fifteen", 30: "thirty", 45: "forty five", 60: "sixty", 90: "ninety"}
"""Minutes between which the student says how long; ours."""
HERRINGS: Final = (
    "The cabin heater smelled like this last week too.",
    "A passenger has opened a bag of something hot.",
    "The last crew wrote of a warm smell on the climb, with nothing found.",
)
"""What would explain the smell, and does not; ours."""
ASKED: Final = (Sense.ATTITUDE, Sense.DIRECTION, Sense.TURN, Sense.COMMUNICATION)
"""What each seat is asked about."""
MOST_ASKED: Final = 4


@dataclass(frozen=True, slots=True)
class Emergency:
    """A story in the air, and the check that goes with it."""

    story: DrillStory
    check_text: str


def invent_emergency(airplane: Airplane, name: str, on: date, *, level: int, seed: int) -> Emergency:
    """The same seed tells the same; `name` is the airplane file's, for the check."""
    generator = np.random.default_rng(seed)
    hidden = (*_generators(airplane), *_dormant(airplane, generator))
    setting = Setting(airplane, hidden, on, seed, is_flying=True)
    after = _on_reserve(setting)
    minutes = _minutes(setting, after)
    fuller = fuller_seat(_picture(after))
    flies = Seat.LEFT if generator.random() < 0.5 else Seat.RIGHT  # noqa: PLR2004 - a coin
    fields = _fields(minutes)
    around = {
        "first thought": "generators lost",
        "fuller seat": "alike" if fuller is None else f"{fuller} seat",
        "control": "I keep control" if fuller in (None, flies) else "you have control",
        "how long": _band(minutes),
        "where to": fields[1][0],
    }
    text = _check(airplane, name, flies, fields, HERRINGS[int(generator.integers(len(HERRINGS)))])
    people = interruptions_of(airplane.registration, 9, 1, generator)
    return Emergency(DrillStory(level, seed, setting, around, people, None), text)


def _generators(airplane: Airplane) -> Iterator[Hidden]:
    for name, source in airplane.sources.items():
        if isinstance(source, Generator):
            yield Hidden(HiddenKind.GIVES_NOTHING, name, comes_at=ONSET_SECONDS)


def _dormant(airplane: Airplane, generator: np.random.Generator) -> tuple[Hidden, ...]:
    """One fault that has been there all along, and shows at an instrument that is asked about."""
    selector = airplane.selector
    asked = set(_asked_instruments(airplane))
    loads = {gyro.load for gyro in airplane.gyros.values() if gyro.instrument in asked}
    known = [
        each
        for each in told_apart(airplane, (selector.reserve,))
        if each.name in loads and each.kind is HiddenKind.DEAD
    ]
    return (known[int(generator.integers(len(known)))],) if known else ()


def _on_reserve(setting: Setting) -> PlayedAirplane:
    """The airplane once the generators are gone and the reserve is selected."""
    played = PlayedAirplane(setting)
    played.leap(ONSET_SECONDS + 1)
    played.move(setting.airplane.selector.name, setting.airplane.selector.reserve)
    played.leap(1.0)
    return played


def _picture(played: PlayedAirplane) -> Picture:
    return Picture(played.setting.airplane, played.situation, played.flow)


def _minutes(setting: Setting, played: PlayedAirplane) -> float:
    """Until something that must be kept is lost, with what may be shed switched off."""
    each, states = batteries_of(setting, setting.airplane)
    off = {name for name, load in setting.airplane.loads.items() if load.keep is not Keep.MUST}
    situation = replace(played.situation, failed=played.situation.failed | off)
    return Runner(setting.airplane, each).run(states, [Leg(setting.phase, situation)]).minutes


def _band(minutes: float) -> str:
    """The highest of the bands' edges that is passed: `more than thirty minutes`."""
    passed = [words for edge, words in BANDS.items() if minutes >= edge]
    return f"more than {passed[-1]} minutes" if passed else f"under {BANDS[min(BANDS)]} minutes"


def _bands() -> list[str]:
    return [_band(0), *map(_band, BANDS)]


def _fields(minutes: float) -> tuple[tuple[str, int, str], ...]:
    """Invented fields: one near and closed, one that can be reached and is open, one beyond the battery."""
    return (
        ("Alder", max(2, round(minutes * 0.25)), "fog"),
        ("Birch", max(3, round(minutes * 0.6)), "open"),
        ("Cedar", round(minutes * 1.5) + 5, "clear"),
    )


def _asked_instruments(airplane: Airplane) -> tuple[str, ...]:
    """Of each seat what is asked about, the senses in their order."""
    found = [
        name
        for sense in ASKED
        for name, instrument in airplane.instruments.items()
        if instrument.seat is not Seat.CENTRE and any(sense in part.senses for part in instrument.parts)
    ]
    return tuple(dict.fromkeys(found))[:MOST_ASKED]


def _check(
    airplane: Airplane, name: str, flies: Seat, fields: Sequence[tuple[str, int, str]], herring: str
) -> str:
    """The check as YAML; JSON is YAML."""
    told = ", ".join(f"{field} {minutes} minutes, {weather}" for field, minutes, weather in fields)
    items = [
        _question(
            "first thought", "What has failed", ["generators lost", "battery failed", "one instrument"]
        ),
        {
            "item": "reserve",
            "challenge": "Select the reserve",
            "why": "Only the battery is left, and only the reserve keeps what is needed.",
            "critical": True,
            "action": "reserve selected",
            "selects": airplane.selector.reserve,
        },
        *(_alive(instrument) for instrument in _asked_instruments(airplane)),
        _question("fuller seat", "Which seat keeps more", ["left seat", "right seat", "alike"]),
        _question(
            "control", f"You fly from the {flies} seat. Control", ["I keep control", "you have control"]
        ),
        {
            "item": "shed",
            "challenge": "Shed what you can",
            "why": "Each ampere that nobody needs is taken from the minutes.",
            "action": "all shed",
        },
        _question("how long", "How long does it last", _bands()),
        _question("where to", f"{told}. Where to", [field for field, _, _ in fields]),
    ]
    landed = {
        "item": "selector off",
        "challenge": "On the ground. Selector off",
        "why": "The battery has done enough.",
        "restores": True,
        "selects": airplane.selector.parked,
        "action": "selector is off",
    }
    call = {
        "item": "complete",
        "challenge": "Your call",
        "why": "It ends the drill.",
        "call": "drill complete",
    }
    return json.dumps(
        {
            "check": f"{airplane.registration}, night, cloud, and a smell",
            "airplane": name,
            "cautions": [
                "A drill at a desk, and no flight training. The flight manual decides what a crew does.",
                f"Night, in cloud. Something smells hot. {herring}",
            ],
            "sections": [
                {"section": "In cloud", "items": items},
                {"section": "Landed", "items": [landed, call]},
            ],
        },
        indent=1,
    )


def _question(name: str, challenge: str, labels: Sequence[str]) -> dict[str, Any]:
    why = "Say what the panel and the battery leave you, not what you hope."
    return {"item": name, "challenge": challenge, "why": why, "choice": list(labels)}


def _alive(instrument: str) -> dict[str, Any]:
    state: Mapping[str, str] = {"it works": "pass", "it is dead": "squawk"}
    return {
        "item": instrument,
        "challenge": instrument[:1].upper() + instrument[1:],
        "why": "What you fly by must be named before it is needed.",
        "looks": True,
        "state": dict(state),
        "proves": instrument,
    }
