"""The panel of a played airplane: what can be seen, heard and felt from the seats, and no fault's name."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from typing import Final

from runner.airplane.life.lively import Life, Picture
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import Instrument, LoadDrive, Part, Radio, Seat, Sense
from runner.airplane.model.wiring import Act, Load, Service
from runner.drill.played.hidden import HiddenKind
from runner.drill.played.setting import Wrong
from runner.drill.played.wheel import Wheel

LOW_SHARE: Final = 0.035
"""Of the true volts, by which a meter that reads low is short; ours."""


class SightKind(StrEnum):
    """What is looked at."""

    METER = "meter"
    INSTRUMENT = "instrument"
    LAMP = "lamp"
    RADIO = "radio"
    OTHER = "other"
    """A load that can be felt or heard, or shows elsewhere."""
    BREAKERS = "breakers"


@dataclass(frozen=True, slots=True)
class PanelSight:
    """One thing that can be looked at."""

    name: str
    kind: SightKind
    seat: Seat
    words: str
    """What is seen: `flag in view`."""
    life: Life
    dark: tuple[str, ...] = ()
    """Bulbs of a lamp that give no light while others do."""
    is_odd: bool = False
    """Alive, and not doing what it is for: a horizon that wanders, a receiver that receives nothing."""


@dataclass(frozen=True, slots=True)
class DrillPanel:
    """Everything that can be seen at one moment."""

    sights: Mapping[str, PanelSight]
    """By the names that checks use, and `breakers`."""
    flags: Mapping[str, bool]
    """Of each gyro, whether its flag is pulled."""
    stands: Mapping[str, str]
    """Where the selector and every switch stands."""
    volts: Decimal
    """As the voltmeter shows them; 0 when it is dead."""
    celsius: float
    """Of the first battery."""

    def life(self, name: str) -> Life:
        """Alive, dead or in part; KeyError for what there is not."""
        return self.sights[name].life

    def differences(self, other: DrillPanel) -> frozenset[str]:
        """Names of what looks different on the other panel; volts from half a volt on."""
        seen = {
            name
            for name, sight in self.sights.items()
            if sight.kind is not SightKind.METER and sight.words != other.sights[name].words
        }
        seen |= {name for name, position in self.stands.items() if position != other.stands[name]}
        if abs(self.volts - other.volts) >= TELLING_VOLTS:
            seen |= {name for name, sight in self.sights.items() if sight.kind is SightKind.METER}
        return frozenset(seen)


TELLING_VOLTS: Final = Decimal("0.4")
"""Readings that differ by less are not told apart by eye in a check; ours."""
BREAKERS: Final = "breakers"

_ALIVE_WORDS: Final[Mapping[Service, tuple[str, str]]] = {
    Service.FLIGHT: ("turning", "still"),
    Service.LIGHTING: ("lit", "dark"),
    Service.CABIN: ("on", "off"),
    Service.WARNING: ("lights at the test", "dark at the test"),
    Service.ICE: ("warm", "cold"),
}
_PIECE_WORDS: Final[Mapping[str, tuple[str, str]]] = {
    "card": ("turns", "frozen"),
    "needle": ("moves", "still"),
    "digits": ("lit", "dark"),
    "tape": ("lit", "dark"),
}
"""By what a part is called."""
_SENSE_WORDS: Final[Mapping[Sense, tuple[str, str]]] = {
    Sense.ATTITUDE: ("horizon steady", "horizon lies still"),
    Sense.DIRECTION: ("turns", "frozen"),
    Sense.NAVIGATION: ("needle moves", "flag stays"),
    Sense.COMMUNICATION: ("answer heard", "nothing heard"),
    Sense.ENGINE: ("shows", "blank"),
    Sense.WARNING: ("lights at the test", "dark at the test"),
}
_ACT_WORDS: Final[Mapping[Act, tuple[str, str]]] = {
    Act.RADIATES: ("transmitting", "silent"),
    Act.HEATS: ("warm", "cold"),
    Act.MOVES: ("moving", "still"),
    Act.PUMPS: ("pumping", "quiet"),
}
_OTHER: Final = ("alive", "dead")


@dataclass(frozen=True, slots=True)
class PanelState:
    """What the panel is read from, beside the solved airplane."""

    wrong: Wrong
    wheels: Mapping[str, Wheel]
    stands: Mapping[str, str]
    volts: float
    """What the meter is led to, before its own mistakes."""
    celsius: float


def read_panel(picture: Picture, state: PanelState) -> DrillPanel:
    """The panel of a solved airplane."""
    airplane, wrong, volts = picture.airplane, state.wrong, state.volts
    lives = dict(_heard(picture, wrong))
    if wrong.has(HiddenKind.METER_LOW, airplane.voltmeter.name):
        volts *= 1 - LOW_SHARE
    shown = _in_steps(airplane, volts) if lives[airplane.voltmeter.name] is not Life.DEAD else Decimal(0)
    sights = {sight.name: sight for sight in _sights(picture, state, lives, shown)}
    flags = {name: _is_pulled(wrong, name, wheel) for name, wheel in state.wheels.items()}
    return DrillPanel(sights, flags, state.stands, shown, state.celsius)


def _is_pulled(wrong: Wrong, gyro: str, wheel: Wheel) -> bool:
    """What a gyro's flag does."""
    is_back = wrong.has(HiddenKind.FLAG_BACK, gyro) and wheel.has_been_up
    return wheel.is_up and not is_back and not wrong.has(HiddenKind.FLAG_NEVER, gyro)


def _in_steps(airplane: Airplane, volts: float) -> Decimal:
    step = airplane.voltmeter.resolution
    return (Decimal(volts) / step).to_integral_value(ROUND_HALF_UP) * step


def _heard(picture: Picture, wrong: Wrong) -> Iterator[tuple[str, Life]]:
    """Lives by name, a deaf radio's parts being dead while it is alive."""
    deaf = {
        radio.load for radio in picture.airplane.radios.values() if wrong.has(HiddenKind.DEAF, radio.name)
    }
    lives = dict(picture.lives())
    for instrument in picture.airplane.instruments.values() if deaf else ():
        silent = {instrument.part_name(part) for part in instrument.parts if _hangs_on(part, deaf)}
        lives |= dict.fromkeys(silent, Life.DEAD)
        parts = {lives[instrument.part_name(part)] for part in instrument.parts}
        lives[instrument.name] = parts.pop() if len(parts) == 1 else Life.PARTIAL
    yield from lives.items()


def _hangs_on(part: Part, loads: set[str]) -> bool:
    return any(isinstance(drive, LoadDrive) and loads & set(drive.loads) for drive in part.drives)


def _sights(
    picture: Picture, state: PanelState, lives: Mapping[str, Life], volts: Decimal
) -> Iterator[PanelSight]:
    airplane = picture.airplane
    for instrument in airplane.instruments.values():
        if instrument.name == airplane.voltmeter.name:
            words = f"{volts} volts" if lives[instrument.name] is not Life.DEAD else "dead"
            life = lives[instrument.name]
            yield PanelSight(instrument.name, SightKind.METER, instrument.seat, words, life)
        else:
            yield from _parts(instrument, lives)
            yield _whole(instrument, airplane, state, lives)
    lamps = {lamp.load: lamp.name for lamp in airplane.lamps.values()}
    radios = {radio.load: radio for radio in airplane.radios.values()}
    for load in airplane.loads.values():
        if load.name in lamps:
            yield _lamp(airplane, lamps[load.name], lives[load.name], state.wrong)
        elif load.name in radios:
            yield _radio(radios[load.name], lives[load.name], state.wrong)
        else:
            words = _load_words(load, lives[load.name])
            yield PanelSight(load.name, SightKind.OTHER, Seat.CENTRE, words, lives[load.name])
    out = ", ".join(sorted(picture.situation.pulled))
    words = f"out: {out}" if out else "all in"
    yield PanelSight(BREAKERS, SightKind.BREAKERS, Seat.CENTRE, words, Life.ALIVE)


def _parts(instrument: Instrument, lives: Mapping[str, Life]) -> Iterator[PanelSight]:
    """Each part that has a name of its own."""
    for part in instrument.parts:
        name = instrument.part_name(part)
        if name != instrument.name:
            words = _part_words(part, lives[name])
            yield PanelSight(name, SightKind.INSTRUMENT, instrument.seat, words, lives[name])


def _whole(
    instrument: Instrument, airplane: Airplane, state: PanelState, lives: Mapping[str, Life]
) -> PanelSight:
    """The instrument by its name: every part of it, and its gyro's flag."""
    said = [
        f"{part.name} {_part_words(part, lives[instrument.part_name(part)])}".strip()
        for part in instrument.parts
    ]
    gyro = next((each for each in airplane.gyros.values() if each.instrument == instrument.name), None)
    is_odd = False
    if gyro is not None:
        wheel = state.wheels[gyro.name]
        is_odd = state.wrong.has(HiddenKind.TUMBLES, gyro.name) and wheel.is_powered
        if is_odd:
            said[0] = f"{instrument.parts[0].name} leans and wanders".strip()
        said.insert(0, "flag pulled" if _is_pulled(state.wrong, gyro.name, wheel) else "flag in view")
    words, life = ", ".join(said), lives[instrument.name]
    return PanelSight(instrument.name, SightKind.INSTRUMENT, instrument.seat, words, life, is_odd=is_odd)


def _lamp(airplane: Airplane, lamp: str, life: Life, wrong: Wrong) -> PanelSight:
    load, bulbs = airplane.lamps[lamp].load, airplane.lamps[lamp].bulbs
    if life is not Life.ALIVE:
        return PanelSight(load, SightKind.LAMP, Seat.CENTRE, "no light", life)
    dark = tuple(bulb for bulb in bulbs if (lamp, bulb) in wrong.ailing.bulbs_out)
    lit = ", ".join(bulb for bulb in bulbs if bulb not in dark)
    words = f"{lit} lit" if lit else "no light"
    if lit and dark:
        words = f"{words}, {', '.join(dark)} dark"
    return PanelSight(load, SightKind.LAMP, Seat.CENTRE, words, life, dark)


def _radio(radio: Radio, life: Life, wrong: Wrong) -> PanelSight:
    """A deaf receiver shows by its needle; a deaf transceiver's display looks well."""
    words = "display lit" if life is Life.ALIVE else "display dark"
    is_deaf = radio.service is Sense.NAVIGATION and wrong.has(HiddenKind.DEAF, radio.name)
    return PanelSight(
        radio.load, SightKind.RADIO, Seat.CENTRE, words, life, is_odd=is_deaf and life is Life.ALIVE
    )


def _part_words(part: Part, life: Life) -> str:
    told = next((_SENSE_WORDS[sense] for sense in part.senses if sense in _SENSE_WORDS), _OTHER)
    alive, dead = _PIECE_WORDS.get(part.name, told)
    return alive if life is Life.ALIVE else dead


def _load_words(load: Load, life: Life) -> str:
    alive, dead = _ALIVE_WORDS.get(load.service, _OTHER) if load.acts is None else _ACT_WORDS[load.acts]
    return alive if life is Life.ALIVE else dead
