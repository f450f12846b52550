"""The panel: in which order and by which names a pilot meets what lives and dies on the reserve."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from runner.airplane.instrument import Instrument, LoadDrive
from runner.airplane.life import Life, Picture, picture
from runner.airplane.model import Airplane
from runner.airplane.situation import on_battery
from runner.checklist.coverage import Duty, duty_of


@dataclass(frozen=True, slots=True)
class Panel:
    """An airplane in its reserve position, on the battery alone."""

    airplane: Airplane
    duty: Duty
    view: Picture

    def rank(self, name: str) -> int:
        """Panel position of a load or instrument; a load is met where the first thing it drives is."""
        shown = [name, *(each.name for each in self.driven_by(name))]
        return min(self.airplane.panel_rank(each) for each in shown)

    def driven_by(self, load: str) -> tuple[Instrument, ...]:
        """Instruments with a part that the load helps to drive."""
        return tuple(each for each in self.airplane.instruments.values() if load in loads_of(each))

    def life(self, instrument: Instrument) -> Life:
        """Whether all, some or none of it lives on the reserve."""
        return self.view.life_of_instrument(instrument)

    def living_parts(self, instrument: Instrument) -> tuple[str, ...]:
        """Names of the parts that live on the reserve."""
        return tuple(
            instrument.part_name(part) for part in instrument.parts if self.view.drive_of(part) is not None
        )

    def dead_parts(self, instrument: Instrument) -> tuple[str, ...]:
        """Names of the parts that are dead on the reserve."""
        living = self.living_parts(instrument)
        names = (instrument.part_name(part) for part in instrument.parts)
        return tuple(name for name in names if name not in living)

    def proved_by(self, instrument: Instrument) -> frozenset[str]:
        """Loads that the living parts show to be alive."""
        drives = (self.view.drive_of(part) for part in instrument.parts)
        return frozenset(load for drive in drives if isinstance(drive, LoadDrive) for load in drive.loads)


def reserve_panel(airplane: Airplane) -> Panel:
    """The panel as the reserve position leaves it."""
    view = picture(airplane, on_battery(airplane, airplane.selector.reserve))
    return Panel(airplane, duty_of(airplane), view)


def loads_of(instrument: Instrument) -> frozenset[str]:
    """Every load that any part of the instrument may be driven by."""
    drives = (drive for part in instrument.parts for drive in part.drives)
    return frozenset(load for drive in drives if isinstance(drive, LoadDrive) for load in drive.loads)


def listed(names: Iterable[str]) -> str | list[str]:
    """One name as it is, several as a list, for a check file."""
    kept = list(names)
    return kept[0] if len(kept) == 1 else kept


def named(names: object) -> tuple[str, ...]:
    """What `listed` made of names, as names again."""
    return (names,) if isinstance(names, str) else tuple(names) if isinstance(names, (list, tuple)) else ()


def started(words: str) -> str:
    """The words with a capital letter in front."""
    return words[:1].upper() + words[1:]
