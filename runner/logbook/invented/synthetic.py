"""A seeded generator of histories, marked as invented: wear, cold mornings, a failing gyro, a weak battery.

Every figure in it is made up. It exists so that charts, reports and benchmarks have something to show.
"""

import math
import random
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import islice
from typing import Final

from runner.checklist.format.check import Check
from runner.checklist.kind.numbered import Numbered
from runner.checklist.kind.spin_up import SpinUp
from runner.core.record.answer_history import history_of
from runner.core.record.codec import to_json
from runner.core.record.entry import Entry
from runner.language.catalogue import Unit
from runner.logbook.invented.invention import Morning, invented_run
from runner.logbook.proof.link import LinkCause, add_links
from runner.logbook.record.chain import ChainLine, digest, header_line, next_line
from runner.logbook.record.header import KIND, RunHeader, header_body, run_id
from runner.logbook.record.ledger import add_chain, add_snapshot
from runner.logbook.record.run_store import Logbook
from runner.logbook.record.summary_table import write_summary

DAY: Final = 86_400.0
MONTH: Final = 365.2425 / 12 * DAY
BATCH: Final = 200
"""Runs that share one transaction."""


class Story(StrEnum):
    """What happens to the invented airplane."""

    NORMAL_WEAR = "normal wear"
    COLD_MORNINGS = "cold mornings"
    FAILING_GYRO = "failing gyro"
    WEAK_BATTERY = "weak battery"


@dataclass(frozen=True, slots=True)
class Recipe:
    """What one invented history is made from; the same recipe gives the same history."""

    story: Story
    seed: int
    runs: int = 60
    started_at: float = 1_735_714_800.0
    """The first morning: 2025-01-01 07:00 UTC unless said otherwise."""
    days_between: float = 7.0
    onset: int = 20
    """The run, counted from 0, at which the failing gyro or the weak battery starts to go."""
    growth_per_month: float = 0.10
    """How much longer the failing gyro takes each month, as a share."""
    sag_volts_per_month: float = 0.25
    """How much the weak battery loses each month."""
    noise_share: float = 0.03
    """Spread of a spin-up from run to run, as a share of its seconds."""
    gyro: str = ""
    """The spin-up item that fails; the first of the check when empty."""


def mornings(check: Check, recipe: Recipe) -> Iterator[Morning]:
    """What the airplane is like on each morning of the history, oldest first."""
    dice = random.Random(f"{recipe.story}/{recipe.seed}")  # noqa: S311 - invented data, no secret
    for number in range(recipe.runs):
        at = recipe.started_at + number * recipe.days_between * DAY + dice.uniform(0, 3600)
        oat = _oat(recipe, at, dice)
        months = max(0.0, number - recipe.onset) * recipe.days_between * DAY / MONTH
        yield Morning(
            at=at,
            oat_celsius=round(oat, 1),
            spin_up_seconds={
                item.name: _spin_up(
                    recipe, body, oat, months if _fails(check, recipe, item.name) else 0.0, dice
                )
                for item, body in check.clocks()
            },
            readings={
                item.name: _reading(recipe, item.body.number, oat, months, dice)
                for item in check.items
                if item.body.number is not None
            },
            lamp_out_share=0.004,
        )


def _oat(recipe: Recipe, at: float, dice: random.Random) -> float:
    season = -math.cos(2 * math.pi * (at - recipe.started_at) / (365.2425 * DAY))
    mean = -8.0 if recipe.story is Story.COLD_MORNINGS else 10.0
    return mean + 9.0 * season + dice.gauss(0, 3.0)


def _fails(check: Check, recipe: Recipe, item: str) -> bool:
    chosen = recipe.gyro or next((clock.name for clock, _ in check.clocks()), "")
    return recipe.story is Story.FAILING_GYRO and item == chosen


def _spin_up(recipe: Recipe, body: SpinUp, oat: float, months: float, dice: random.Random) -> float:
    usual = 0.6 * body.advise_seconds
    cold = 1 + 0.012 * max(0.0, 15.0 - oat) if recipe.story is Story.COLD_MORNINGS else 1.0
    grown = math.pow(1 + recipe.growth_per_month, months)
    return max(1.0, usual * cold * grown * (1 + dice.gauss(0, recipe.noise_share)))


def _reading(recipe: Recipe, body: Numbered, oat: float, months: float, dice: random.Random) -> float:
    low, high = float(body.pass_band.low), float(body.pass_band.high)
    spread = (high - low) / 20
    cold = 0.004 * (high - low) * max(0.0, 15.0 - oat) if recipe.story is Story.COLD_MORNINGS else 0.0
    sags = recipe.story is Story.WEAK_BATTERY and body.unit is Unit.VOLTS
    sag = recipe.sag_volts_per_month * months if sags else 0.0
    return (low + high) / 2 - cold - sag + dice.gauss(0, spread)


@dataclass(frozen=True, slots=True)
class InventedAirplane:
    """Whose invented history it is, and the texts that its runs are recorded with."""

    name: str
    registration: str
    check_text: str
    airplane_text: str


def write_history(
    logbook: Logbook, check: Check, airplane: InventedAirplane, recipe: Recipe
) -> tuple[str, ...]:
    """Write a history as real, chained runs; gives their ids. Many runs share one sync of the disk."""
    dice = random.Random(f"{recipe.seed}/{airplane.registration}")  # noqa: S311 - invented data, no secret
    written: list[str] = []
    waiting = mornings(check, recipe)
    while some := tuple(islice(waiting, BATCH)):
        ends: list[ChainLine] = []
        with logbook.writing() as connection:
            for text in (airplane.check_text, airplane.airplane_text):
                add_snapshot(connection, text)
            for morning in some:
                header = _header(check, airplane, morning, dice)
                entries = invented_run(check, morning, dice)
                lines = chain_of(header, entries)
                write_summary(connection, add_chain(connection, KIND, lines), header, history_of(entries))
                written.append(header.run)
                ends.append(lines[-1])
            add_links(connection, KIND, ends, LinkCause.TAKEN_IN)
    return tuple(written)


def _header(check: Check, airplane: InventedAirplane, morning: Morning, dice: random.Random) -> RunHeader:
    return RunHeader(
        run=run_id(morning.at, airplane.name, dice.choice),
        started_at=morning.at,
        check=check.name,
        airplane=airplane.name,
        registration=airplane.registration,
        pilot="invented pilot",
        oat_celsius=morning.oat_celsius,
        check_sha256=digest(airplane.check_text),
        airplane_sha256=digest(airplane.airplane_text),
        series={item.name: body.gyro for item, body in check.clocks()},
        is_invented=True,
    )


def chain_of(header: RunHeader, entries: tuple[Entry, ...]) -> list[ChainLine]:
    """A run's whole chain."""
    lines = [header_line(header.run, header_body(header))]
    for entry in entries:
        lines.append(next_line(lines[-1], to_json(entry)))
    return lines
