"""What a session is built from: the check, its airplane, the plan of the run, and their exact texts."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from runner.airplane.fact import electrical_facts
from runner.airplane.load import load_airplane, parse_airplane
from runner.airplane.model import Airplane
from runner.checklist.consistency import contradictions
from runner.checklist.finding import Grade
from runner.checklist.load import parse_check
from runner.checklist.model import Check
from runner.core.plan import Plan
from runner.document import read_words
from runner.errors import FileError, UsageError
from runner.language.clash import clashes
from runner.logbook.record import header_of, snapshots_of
from runner.logbook.shelf import Shelf
from runner.place import data_folder

SUFFIX: Final = ".yaml"


@dataclass(frozen=True, slots=True)
class Parts:
    """A check and its airplane, ready to be run."""

    check: Check
    check_text: str
    airplane: Airplane
    airplane_text: str
    plan: Plan

    @property
    def series(self) -> dict[str, str]:
        """For each spin-up item, its gyro: times are compared by gyro, not by item."""
        return {item.name: body.gyro for item, body in self.check.clocks()}


def find_check(name: str) -> Path:
    """A check file by path, or a shipped one by name; UsageError names the nearest."""
    return _find(name, data_folder("checklists"), "check")


def find_airplane(name: str, beside: Path | None = None) -> Path:
    """An airplane file by path, by name in the folder `airplanes` beside a check, or a shipped one."""
    if beside is not None and (own := beside.parent / "airplanes" / f"{name}{SUFFIX}").is_file():
        return own
    return _find(name, data_folder("checklists") / "airplanes", "airplane")


def load_parts(name: str, on: datetime | None = None) -> Parts:
    """The check of that name (or path) with its airplane; FileError for what is wrong in either file."""
    path = find_check(name)
    check_text = read_words(path)
    check = parse_check(check_text, path)
    airplane_path = find_airplane(check.airplane, path)
    parts = assemble(check_text, path, read_words(airplane_path), airplane_path, on)
    _refuse_contradictions(parts)
    return parts


def read_airplane_of(check: Check, path: Path) -> Airplane:
    """The airplane of a check that was read from `path`."""
    return load_airplane(find_airplane(check.airplane, path))


def recorded_parts(shelf: Shelf, run: str) -> Parts:
    """The parts that a run was begun with, from the texts in its record."""
    header, texts = header_of(shelf, run), snapshots_of(shelf, run)
    began = datetime.fromtimestamp(header.started_at, UTC)
    check_path, airplane_path = Path(f"{header.check}{SUFFIX}"), Path(f"{header.airplane}{SUFFIX}")
    return assemble(texts.check, check_path, texts.airplane, airplane_path, began, is_recorded=True)


def assemble(
    check_text: str,
    check_path: Path,
    airplane_text: str,
    airplane_path: Path,
    on: datetime | None = None,
    *,
    is_recorded: bool = False,
) -> Parts:
    """Parts out of the texts of both files; the paths only name them."""
    check = parse_check(check_text, check_path, is_recorded=is_recorded)
    airplane = parse_airplane(airplane_text, airplane_path)
    facts = electrical_facts(airplane, (on or datetime.now(UTC)).date())
    plan = Plan(
        check=check,
        normal_position=facts.parked_position,
        battery_amps=facts.battery_amps,
        usable_ampere_hours=facts.usable_ampere_hours,
        warn_share=facts.warn_share,
    )
    return Parts(check, check_text, airplane, airplane_text, plan)


def _refuse_contradictions(parts: Parts) -> None:
    """A check that contradicts its airplane, or says one thing for two, is not run: FileError."""
    check = parts.check
    for finding in contradictions(check, parts.airplane):
        if finding.grade is Grade.ERROR:
            raise FileError(finding.place, finding.message)
    for clash in clashes(check):
        raise FileError(check.item(clash.item).place, clash.message)


def _find(name: str, folder: Path, noun: str) -> Path:
    if name.endswith(SUFFIX) or "/" in name:
        return Path(name)
    path = folder / f"{name}{SUFFIX}"
    if path.is_file():
        return path
    known = sorted(other.stem for other in folder.glob(f"*{SUFFIX}"))
    near = difflib.get_close_matches(name, known, n=1, cutoff=0.4)
    advice = f'did you mean "{near[0]}"?' if near else f"known: {', '.join(known)}"
    raise UsageError(f'no {noun} "{name}"; {advice} Or give the path of a YAML file')
