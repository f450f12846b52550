"""Life: what of each load, instrument and part shows life in a situation, and by what power."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from runner.airplane.electric.current_network import Electric
from runner.airplane.electric.flow import Flow
from runner.airplane.life.life_network import live_feed
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import (
    AirDrive,
    Drive,
    Instrument,
    LoadDrive,
    OwnBatteryDrive,
    Part,
    SelfDrive,
    VacuumDrive,
)
from runner.airplane.model.situation import Situation


class Life(StrEnum):
    """Whether something works."""

    ALIVE = "alive"
    DEAD = "dead"
    PARTIAL = "partial"


@dataclass(frozen=True, slots=True)
class Picture:
    """One situation of one airplane, solved."""

    airplane: Airplane
    situation: Situation
    solution: Flow

    def drive_of(self, part: Part) -> Drive | None:
        """What keeps the part alive: the first of its drives that works; None when it is dead."""
        return next((drive for drive in part.drives if self._works(drive)), None)

    def life_of_instrument(self, instrument: Instrument) -> Life:
        """Alive or dead when all its parts are, partial when they differ."""
        alive = [self.drive_of(part) is not None for part in instrument.parts]
        if all(alive):
            return Life.ALIVE
        return Life.PARTIAL if any(alive) else Life.DEAD

    def lives(self) -> Mapping[str, Life]:
        """Life of every load, instrument and part, by the names that checks use."""
        lives = {
            name: Life.ALIVE if name in self.solution.alive else Life.DEAD for name in self.airplane.loads
        }
        for instrument in self.airplane.instruments.values():
            for part in instrument.parts:
                is_dead = self.drive_of(part) is None
                lives[instrument.part_name(part)] = Life.DEAD if is_dead else Life.ALIVE
            lives[instrument.name] = self.life_of_instrument(instrument)
        return lives

    def power_of(self, drive: Drive) -> str:
        """The power behind a drive in words: `reserve bus (main battery)`."""
        match drive:
            case LoadDrive(loads):
                return " and ".join(dict.fromkeys(self._feed_words(name) for name in loads))
            case OwnBatteryDrive(minutes):
                return f"its own battery, {minutes:g} min"
            case VacuumDrive(pump):
                return f"vacuum ({pump})"
            case AirDrive(probe):
                return f"air ({probe})"
            case SelfDrive():
                return "itself"

    def feed_of(self, load: str) -> str | None:
        """The bus that feeds a load; None when it has none."""
        return live_feed(self.airplane.loads[load], self.situation, self.solution.carriers)

    def _feed_words(self, load: str) -> str:
        bus = self.feed_of(load)
        return "no power" if bus is None else f"{bus} ({', '.join(self.solution.carriers[bus])})"

    def _works(self, drive: Drive) -> bool:
        match drive:
            case LoadDrive(loads):
                return self.solution.alive.issuperset(loads)
            case VacuumDrive(pump):
                return pump not in self.situation.lost
            case _:
                return True


def picture(airplane: Airplane, situation: Situation) -> Picture:
    """Solve one situation; for many of the same airplane keep an Electric instead."""
    return Picture(airplane, situation, Electric(airplane).solve(situation))
