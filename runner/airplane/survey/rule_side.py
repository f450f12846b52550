"""Remarks by 14 CFR 91.205: rows of (b) and (d) that nothing answers, with (d)(3)'s exception."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import Sense
from runner.airplane.model.rule import ROWS
from runner.airplane.model.source import Generator
from runner.airplane.model.wiring import Act, Service
from runner.airplane.survey.remark import Remark, warning

THIRD: Final = 3
"""Attitude instruments with which 91.205(d)(3)(i) may excuse the turn indicator."""


def judge_rules(airplane: Airplane) -> Iterator[Remark]:
    """A row that no instrument of either seat answers, with everything working."""
    senses = {sense for each in airplane.instruments.values() for part in each.parts for sense in part.senses}
    for row in ROWS:
        missing = [sense for sense in row.senses if sense not in senses]
        if row.senses == (Sense.TURN,) and missing:
            yield _turn(airplane, row.paragraph)
        elif missing:
            yield _missing(airplane, row.paragraph, row.wants)
    if not any(isinstance(source, Generator) for source in airplane.sources.values()):
        yield _missing(airplane, "91.205(d)(7)", "generator or alternator")
    yield from _day(airplane, senses)


def _day(airplane: Airplane, senses: set[Sense]) -> Iterator[Remark]:
    """Rows of (b) that the table for the seats leaves out."""
    if Sense.ENGINE not in senses:
        yield _missing(airplane, "91.205(b)(4) to (8)", "engine instruments")
    services = {load.service for load in airplane.loads.values()}
    gauges = [name for name in (*airplane.instruments, *airplane.loads) if "fuel" in name.lower()]
    if not gauges:
        yield _missing(airplane, "91.205(b)(9)", "fuel gauge for each tank")
    folds = any(
        load.service is Service.GEAR and load.acts is Act.MOVES and "gear" in load.name.lower().split()
        for load in airplane.loads.values()
    )
    lamps = [lamp for lamp in airplane.lamps.values() if "gear" in lamp.name.lower().split()]
    if folds and not lamps and Service.GEAR in services:
        yield _missing(airplane, "91.205(b)(10)", "landing gear position indicator")


def _turn(airplane: Airplane, paragraph: str) -> Remark:
    attitudes = sum(
        any(Sense.ATTITUDE in part.senses for part in each.parts) for each in airplane.instruments.values()
    )
    if attitudes >= THIRD:
        message = (
            f"{paragraph}: no rate-of-turn indicator; {attitudes} attitude instruments excuse it only if"
            " the third is usable through 360 degrees of pitch and roll (91.205(d)(3)(i)); look it up"
        )
        return warning(airplane, "instruments", message)
    return _missing(airplane, paragraph, "gyroscopic rate-of-turn indicator")


def _missing(airplane: Airplane, paragraph: str, wants: str) -> Remark:
    message = (
        f'{paragraph} asks for "{wants}", and nothing in this airplane answers it; describe it, or know what'
        " may not be flown"
    )
    return warning(airplane, "instruments", message)
