from dataclasses import replace

import pytest

from runner.core.plan import Plan
from runner.core.record.battery_use import ampere_hours, owes_warning, share_used
from runner.core.record.fold import fold
from runner.core.record.progress import Position, Progress
from runner.language.catalogue import Word
from tests.core.sample import CHECK, PLAN, before_restoration, begun, powered


def test_amperes_times_hours_is_counted_for_each_position() -> None:
    """5 min x 43.5 A + 10 min x 48.1 A are 698.5 A min (load example of 190-02246-10 Rev 11 p. 3-38)."""
    plan = Plan(CHECK, "normal", {"normal": 43.5, "reserve": 48.1}, usable_ampere_hours=26.25, warn_share=0.5)
    progress = Progress(plan, positions=(Position(0.0, "normal", "a"), Position(300.0, "reserve", "b")))
    used = ampere_hours(progress, 900.0)
    assert used == pytest.approx(698.5 / 60)
    assert share_used(progress, 900.0) == pytest.approx(698.5 / 1575)


def test_nothing_is_counted_before_the_selector_was_set() -> None:
    """The run does not know what was on."""
    assert ampere_hours(begun().machine.progress, 1e9) == 0.0


def test_the_time_runs_from_the_onset_of_the_answer() -> None:
    """36 A for 100 s are one ampere-hour."""
    run = powered()
    assert ampere_hours(run.machine.progress, run.at - 0.5 + 100.0) == pytest.approx(1.0)
    assert ampere_hours(run.machine.progress, run.at - 10.0) == 0.0


def test_a_stop_of_the_program_does_not_stop_the_battery() -> None:
    """The loads stay on."""
    run = powered()
    again = run.restart()
    assert ampere_hours(again.machine.progress, again.at) == pytest.approx(36.0 * 60.5 / 3600.0)


def test_the_end_of_the_run_ends_the_count() -> None:
    """What is on after it is not this check's."""
    run = before_restoration().pick("normal", "normal").pick("call", "check complete")
    progress = run.machine.progress
    assert ampere_hours(progress, run.at) == ampere_hours(progress, run.at + 9999.0) > 0


def test_a_restoration_that_failed_leaves_the_reserve_load_on() -> None:
    """The selector is where it was."""
    run = before_restoration().pick("normal", "jammed")
    assert [held.position for held in run.machine.progress.positions] == ["reserve"]


def test_a_restoration_that_is_corrected_leaves_the_reserve_load_on() -> None:
    """A correction never takes the selector to be nearer to normal than it may be."""
    run = before_restoration().pick("normal", "normal")
    assert [held.position for held in run.machine.progress.positions] == ["reserve", "normal"]
    run.say(Word.CORRECTION)
    assert [held.position for held in run.machine.progress.positions] == ["reserve"]


def test_a_move_away_that_is_corrected_still_counts() -> None:
    """Nobody knows whether the selector moved."""
    run = powered().say(Word.CORRECTION)
    assert [held.position for held in run.machine.progress.positions] == ["reserve"]


def test_a_position_without_a_figure_counts_nothing() -> None:
    """The plan may not know it."""
    progress = replace(fold(replace(PLAN, battery_amps={}), powered().entries))
    assert ampere_hours(progress, 1e9) == 0.0


def test_an_unknown_battery_has_no_share_and_no_warning() -> None:
    """There is nothing to compare with."""
    progress = fold(replace(PLAN, usable_ampere_hours=0.0), powered().entries)
    assert share_used(progress, 1e9) == 0.0
    assert not owes_warning(progress, 1e9)
    assert not owes_warning(fold(replace(PLAN, warn_share=0.0), powered().entries), 1e9)


def test_the_warning_is_owed_once() -> None:
    """On record, it is given."""
    run = powered().tick(250)
    assert run.machine.progress.battery_warning is not None
    assert not owes_warning(run.machine.progress, run.at + 999)
    assert owes_warning(powered().say(Word.WHY).machine.progress, run.at)
