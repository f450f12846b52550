"""What a session is built from: the check, its airplane, the plan of the run, and their exact texts."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path

from runner.airplane.load.airplane_load import load_airplane, parse_airplane
from runner.airplane.minutes.fact import electrical_facts
from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Check
from runner.checklist.format.check_load import parse_check
from runner.checklist.lint.clash import clashes
from runner.checklist.lint.consistency import contradictions
from runner.checklist.lint.finding import Grade
from runner.core.plan import Plan, plan_on_ground
from runner.document import read_words
from runner.errors import FileError, UsageError
from runner.logbook.record.header import NO_AIRPLANE, RunHeader
from runner.logbook.record.record import header_of, snapshot_text
from runner.logbook.record.record_shelf import Shelf
from runner.session.data_file import SUFFIX, find_airplane, find_check


@dataclass(frozen=True, slots=True)
class Parts:
    """A check and its airplane, ready to be run."""

    check: Check
    check_text: str
    airplane: Airplane | None
    """None for a check that is for any airplane."""
    airplane_text: str
    plan: Plan

    @property
    def registration(self) -> str:
        """The tail's, or that there is none."""
        return NO_AIRPLANE if self.airplane is None else self.airplane.registration

    @property
    def airplane_title(self) -> str:
        """What the airplane is; empty where the check is for any."""
        return "" if self.airplane is None else self.airplane.title

    @property
    def series(self) -> dict[str, str]:
        """For each spin-up item, its gyro: times are compared by gyro, not by item."""
        return {item.name: body.gyro for item, body in self.check.clocks()}


def load_parts(name: str, on: datetime | None = None, beside: Path | None = None) -> Parts:
    """The check of that name (or path) with its airplane, if it is for one.

    FileError for what is wrong in either file. `beside` is the file that names the check, if one does.
    """
    path = find_check(name, beside)
    check_text = read_words(path)
    airplane_path = airplane_file(parse_check(check_text, path))
    airplane_text = "" if airplane_path is None else read_words(airplane_path)
    parts = assemble(check_text, path, airplane_text, airplane_path, on)
    _refuse_contradictions(parts)
    return parts


def airplane_file(check: Check) -> Path | None:
    """The file of the airplane that a check is for; None when it is for any."""
    if check.airplane_place is None:
        return None
    try:
        return find_airplane(check.airplane, check.airplane_place.path)
    except UsageError as error:
        raise FileError(check.airplane_place, str(error)) from None


def read_airplane_of(check: Check) -> Airplane | None:
    """The airplane that a check is for; None when it is for any."""
    path = airplane_file(check)
    return None if path is None else load_airplane(path)


def recorded_parts(shelf: Shelf, run: str) -> Parts:
    """The parts that a run was begun with, from the texts in its record."""
    return parts_of(shelf, header_of(shelf, run))


def parts_of(shelf: Shelf, header: RunHeader) -> Parts:
    """The same by a run's header, from the texts that the shelf has; RecordError when it lacks one."""
    began = datetime.fromtimestamp(header.started_at, UTC)
    check_path = Path(f"{header.check}{SUFFIX}")
    airplane_path = Path(f"{header.airplane}{SUFFIX}") if header.airplane else None
    check_text, airplane_text = (
        snapshot_text(shelf, sha256) for sha256 in (header.check_sha256, header.airplane_sha256)
    )
    return assemble(check_text, check_path, airplane_text, airplane_path, began, is_recorded=True)


def assemble(
    check_text: str,
    check_path: Path,
    airplane_text: str,
    airplane_path: Path | None,
    on: datetime | None = None,
    *,
    is_recorded: bool = False,
) -> Parts:
    """Parts out of the texts of both files; the paths only name them; without an airplane there is one."""
    check = _check_of(check_text, check_path, is_recorded=is_recorded)
    if airplane_path is None:
        return Parts(check, check_text, None, airplane_text, plan_on_ground(check))
    airplane = _airplane_of(airplane_text, airplane_path)
    facts = electrical_facts(airplane, (on or datetime.now(UTC)).date())
    plan = Plan(
        check=check,
        normal_position=facts.parked_position,
        battery_amps=facts.battery_amps,
        usable_ampere_hours=facts.usable_ampere_hours,
        warn_share=facts.warn_share,
    )
    return Parts(check, check_text, airplane, airplane_text, plan)


@lru_cache(maxsize=8)
def _check_of(words: str, path: Path, *, is_recorded: bool) -> Check:
    """A fleet's report asks for the same text once an airplane."""
    return parse_check(words, path, is_recorded=is_recorded)


@lru_cache(maxsize=8)
def _airplane_of(words: str, path: Path) -> Airplane:
    return parse_airplane(words, path)


def _refuse_contradictions(parts: Parts) -> None:
    """A check that contradicts its airplane, or says one thing for two, is not run: FileError."""
    check = parts.check
    for finding in () if parts.airplane is None else contradictions(check, parts.airplane):
        if finding.grade is Grade.ERROR:
            raise FileError(finding.place, finding.message)
    for clash in clashes(check):
        raise FileError(check.item(clash.item).place, clash.message)
