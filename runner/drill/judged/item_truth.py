"""The truth of an item: which answers a student who looks can give, by the panel at one moment."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from runner.airplane.life.lively import Life
from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Item, Response
from runner.checklist.kind.numbered import Numbered
from runner.drill.played.drill_panel import TELLING_VOLTS, DrillPanel, SightKind
from runner.language.catalogue import Outcome, Unit

Around = Mapping[str, str]
"""What is so around the airplane, for items that no model answers: item and the label that is true."""


@dataclass(frozen=True, slots=True)
class Truth:
    """What may be answered, and whether all is as it should be."""

    labels: tuple[str, ...]
    """For named answers; empty for a reading."""
    number: Decimal | None
    """What a gauge shows."""
    step: Decimal
    """By which two readings of one gauge may differ."""
    is_usual: bool

    def admits(self, answer: str) -> bool:
        """Whether an answer, in the words of the record, is true."""
        if self.number is None:
            return answer in self.labels
        return abs(Decimal(answer) - self.number) <= self.step

    def tells_from(self, other: Truth) -> bool:
        """Whether an answer could show which of the two it is."""
        if self.number is None or other.number is None:
            return self.labels != other.labels
        is_far = abs(self.number - other.number) >= TELLING_VOLTS
        return is_far or self.is_usual != other.is_usual

    @property
    def words(self) -> str:
        """For a debrief: `left out`, or the number."""
        return " or ".join(self.labels) if self.number is None else str(self.number)


def truth_of(item: Item, panel: DrillPanel, airplane: Airplane, around: Around) -> Truth:
    """What the panel makes true for an item."""
    body, responses = item.body, item.responses
    alive, dead = body.shows(())
    if body.number is not None:
        return _read(item, body.number, panel, airplane)
    if body.clock is not None:
        is_pulled = panel.flags.get(body.clock.gyro, True)
        return _named((body.clock.pulled if is_pulled else body.clock.stuck,), is_usual=is_pulled)
    if alive or dead:
        lives = all(_works(panel, name) for name in alive)
        return _by_usual(responses, lives and all(_is_dead(panel, name) for name in dead))
    if body.is_deed or body.is_fork or body.is_call:
        return _told(item, responses, around)
    return _state(item, responses, panel, around)


def undone(item: Item, panel: DrillPanel, airplane: Airplane) -> tuple[str, ...]:
    """What the item's answer says was done and was not: switches that do not stand as they should."""
    found = [switch for switch in item.moves if panel.stands.get(switch) == "off"]
    found += [switch for switch in item.returns if panel.stands.get(switch) == "on"]
    if item.body.selects not in (None, panel.stands[airplane.selector.name]):
        found.append(airplane.selector.name)
    found += [switch for switch in item.body.switches or () if panel.stands.get(switch) == "off"]
    return tuple(dict.fromkeys(found))


def _read(item: Item, body: Numbered, panel: DrillPanel, airplane: Airplane) -> Truth:
    """The voltmeter, the battery's temperature, or a gauge that no model knows: the middle of its band."""
    if airplane.voltmeter.name in item.proves:
        number = panel.volts
    elif body.unit is Unit.DEGREES:
        number = Decimal(panel.celsius)
    else:
        number = (body.pass_band.low + body.pass_band.high) / 2
    number = (number / body.resolution).to_integral_value(ROUND_HALF_UP) * body.resolution
    return Truth((), number, body.resolution, body.outcome(number) is Outcome.PASS)


def _state(item: Item, responses: tuple[Response, ...], panel: DrillPanel, around: Around) -> Truth:
    if not item.proves:
        return _told(item, responses, around)
    dark = [bulb for name in item.proves for bulb in panel.sights[name].dark]
    if dark:
        wrong = tuple(each for each in responses if each.outcome is not Outcome.PASS)
        named = tuple(each for each in wrong if any(bulb in _words(each) for bulb in dark))
        return _named(named or wrong, is_usual=False)
    lamps = [name for name in item.proves if panel.sights[name].kind is SightKind.LAMP]
    if any(panel.life(name) is Life.DEAD for name in lamps):
        return _named(_all_dark(responses), is_usual=False)
    return _by_usual(responses, all(_works(panel, name) for name in item.proves))


def _all_dark(responses: tuple[Response, ...]) -> tuple[Response, ...]:
    """Of the answers that are no pass, those for no light at all where there are such."""
    wrong = tuple(each for each in responses if each.outcome is not Outcome.PASS)
    none = tuple(each for each in wrong if {"no", "nothing", "none", "dark", "all"} & _words(each))
    return none or wrong


def _words(response: Response) -> set[str]:
    return set(response.label.split())


def _works(panel: DrillPanel, name: str) -> bool:
    sight = panel.sights[name]
    return sight.life is Life.ALIVE and not sight.is_odd


def _is_dead(panel: DrillPanel, name: str) -> bool:
    return panel.life(name) is Life.DEAD


def _told(item: Item, responses: tuple[Response, ...], around: Around) -> Truth:
    """What is so around the airplane; where nothing is said of it, all is well."""
    label = around.get(item.name)
    if label is None:
        return _by_usual(responses, is_usual=True)
    told = tuple(each for each in responses if each.label == label)
    return _named(told, is_usual=all(each.outcome is Outcome.PASS for each in told))


def _by_usual(responses: tuple[Response, ...], is_usual: bool) -> Truth:  # noqa: FBT001 - two cases of one thing
    return _named(tuple(_those(responses, is_usual=is_usual)), is_usual=is_usual)


def _those(responses: tuple[Response, ...], *, is_usual: bool) -> Iterator[Response]:
    return (each for each in responses if (each.outcome is Outcome.PASS) == is_usual)


def _named(responses: tuple[Response, ...], *, is_usual: bool) -> Truth:
    return Truth(tuple(each.label for each in responses), None, Decimal(0), is_usual)
