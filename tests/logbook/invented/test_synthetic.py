import random
from pathlib import Path
from statistics import fmean

import pytest

from runner.core.ask.agenda import state_of
from runner.core.record.entry import AnswerRecorded, ClockStarted
from runner.core.record.fold import fold
from runner.core.state import State
from runner.language.catalogue import Outcome
from runner.logbook.invented.invention import Morning, invented_run
from runner.logbook.invented.synthetic import InventedAirplane, Recipe, Story, write_history
from runner.logbook.list.airplane_series import AirplaneSeries, series_of
from runner.logbook.list.run_list import runs
from runner.logbook.proof.audit import audit_folder
from runner.logbook.record.record import entries_of, header_of
from runner.logbook.record.run_store import Logbook
from runner.session.parts import Parts, load_parts
from tests.core import danger
from tests.logbook.sample import STARTED_AT

CHECKS = ("merlow-reserve", "tarn-reserve")


def _airplane(parts: Parts) -> InventedAirplane:
    return InventedAirplane(parts.check.airplane, parts.registration, parts.check_text, parts.airplane_text)


def _series(folder: Path, recipe: Recipe, kind: str) -> list[AirplaneSeries]:
    parts = load_parts("merlow-reserve")
    with Logbook.open(folder) as logbook:
        write_history(logbook, parts.check, _airplane(parts), recipe)
        return [series for series in series_of(logbook, parts.check.airplane) if series.kind == kind]


def _growth(series: AirplaneSeries, first: int = 20) -> float:
    values = [point.value for point in series.points]
    return fmean(values[-first:]) / fmean(values[:first])


@pytest.mark.parametrize("story", Story)
@pytest.mark.parametrize("name", CHECKS)
def test_every_invented_run_folds_to_a_completed_run_of_its_check(
    tmp_path: Path, story: Story, name: str
) -> None:
    """The machine's own fold takes the record; verify finds chain, texts and summaries whole."""
    parts = load_parts(name)
    with Logbook.open(tmp_path) as logbook:
        written = write_history(logbook, parts.check, _airplane(parts), Recipe(story, seed=1, runs=25))
        for run in written:
            times = [entry.at for entry in entries_of(logbook, run) if not isinstance(entry, ClockStarted)]
            assert times == sorted(times)
            assert state_of(fold(parts.plan, entries_of(logbook, run))) is State.COMPLETE
    assert audit_folder(tmp_path).is_whole


def test_every_run_of_it_says_that_it_is_invented(tmp_path: Path) -> None:
    """In its header, which is hashed, and in the list."""
    parts = load_parts("merlow-reserve")
    with Logbook.open(tmp_path) as logbook:
        written = write_history(logbook, parts.check, _airplane(parts), Recipe(Story.NORMAL_WEAR, 1, runs=3))
        assert all(header_of(logbook, run).is_invented for run in written)
        assert [run.is_invented for run in runs(logbook)] == [True] * 3


def test_the_same_recipe_gives_the_same_history(tmp_path: Path) -> None:
    """Down to the ids of the runs and the hashes of their records."""
    recipe = Recipe(Story.COLD_MORNINGS, seed=7, runs=5)
    parts = load_parts("merlow-reserve")
    found = []
    for folder in (tmp_path / "one", tmp_path / "two"):
        with Logbook.open(folder) as logbook:
            write_history(logbook, parts.check, _airplane(parts), recipe)
        found.append([(verdict.chain, verdict.digest) for verdict in audit_folder(folder).verdicts])
    assert found[0] == found[1]


def test_a_failing_gyro_needs_longer_and_the_others_do_not(tmp_path: Path) -> None:
    """Ten percent a month for nine months: more than half as long again; the others within 5 %."""
    failing, *others = sorted(
        _series(tmp_path, Recipe(Story.FAILING_GYRO, 3), "spin-up"), key=_growth, reverse=True
    )
    assert failing.name == "left attitude gyro"
    assert _growth(failing) > 1.5
    assert all(abs(_growth(other) - 1) < 0.05 for other in others)


def test_a_weak_battery_sags_and_its_gyros_do_not_care(tmp_path: Path) -> None:
    """A quarter of a volt each month."""
    recipe = Recipe(Story.WEAK_BATTERY, 3)
    volts = _series(tmp_path, recipe, "reading")
    assert volts
    assert all(_growth(series) < 0.97 for series in volts if series.unit == "volts")


def test_cold_mornings_lengthen_every_spin_up(tmp_path: Path) -> None:
    """Against normal wear with the same seed, and the colder half against the warmer."""
    cold = _series(tmp_path / "cold", Recipe(Story.COLD_MORNINGS, 3), "spin-up")
    usual = _series(tmp_path / "usual", Recipe(Story.NORMAL_WEAR, 3), "spin-up")
    for one, other in zip(cold, usual, strict=True):
        assert fmean(p.value for p in one.points) > 1.1 * fmean(p.value for p in other.points)
        by_cold = sorted(one.points, key=lambda point: point.oat_celsius or 0.0)
        assert by_cold[0].value > by_cold[-1].value


def test_an_invented_run_never_stops_its_check() -> None:
    """It goes on to its end: a battery however weak stays at the edge, and no answer means danger."""
    morning = Morning(STARTED_AT, -20.0, {"left flag": 20.0}, {"volts": 12.0, "rest": 40.0}, 0.9)
    for seed in range(20):
        entries = invented_run(danger.CHECK, morning, random.Random(seed))
        answers = {entry.item: entry for entry in entries if isinstance(entry, AnswerRecorded)}
        assert all(answer.outcome is not Outcome.STOP for answer in answers.values())
        assert (answers["volts"].answer, answers["rest"].answer) == ("20.0", "32.0")
