"""The data behind a run's report: what each item got, what was corrected, and what else is told."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from runner.core.record.answer_history import RunState
from runner.language.catalogue import Outcome
from runner.logbook.carry.run_export import KeptFiles
from runner.logbook.record.run_store import Logbook
from runner.logbook.squawk.squawk_record import SquawkState
from runner.report.run.run_item import ItemState
from runner.report.run.run_report import RunReport, run_report
from runner.report.run.run_wording import answer_words, battery_words, haste_words
from runner.session.parts import load_parts
from tests.report.run_sample import CHECK, MAKER, STARTED_AT, basis_of, reports, write_busy_run


@pytest.fixture(scope="module")
def report(tmp_path_factory: pytest.TempPathFactory) -> RunReport:
    """The busy run, the second of its airplane."""
    return reports(tmp_path_factory.mktemp("logbook"), past=1).run


@pytest.fixture
def logbook(tmp_path: Path) -> Iterator[Logbook]:
    """An empty one."""
    with Logbook.open(tmp_path) as found:
        yield found


def _reported(logbook: Logbook, run: str) -> RunReport:
    return run_report(logbook, KeptFiles(logbook, logbook.clips), run, basis_of(logbook, run), MAKER)


def test_every_item_of_the_check_is_there_with_its_state(report: RunReport) -> None:
    """In the order of the check; one was ruled out by a choice, one could not be done."""
    assert [item.item.name for item in report.items] == [item.name for item in load_parts(CHECK).check.items]
    named = {item.item.name: item.state for item in report.items}
    assert named["old second radio"] is ItemState.LEFT_OUT
    assert named["right attitude"] is ItemState.UNABLE
    assert set(named.values()) == {ItemState.ANSWERED, ItemState.LEFT_OUT, ItemState.UNABLE}


def test_a_superseded_answer_stays_beside_the_one_that_stands(report: RunReport) -> None:
    """With the time of the correction."""
    lamps = next(item for item in report.items if item.item.name == "gear lamps")
    first, last = lamps.given
    assert (first.answer, first.superseded_at) == ("three green", STARTED_AT + 129)
    assert (answer_words(last), last.stands, lamps.outcome) == ("nose out", True, Outcome.SQUAWK)
    assert report.corrections == report.summary.corrections == 1


def test_squawks_come_with_shared_feeds_and_what_people_recorded(report: RunReport) -> None:
    """In the order of the check; the note's clip is there."""
    compass, lamps = report.squawks
    assert answer_words(compass.given) == "flag stuck, 121.0 s"
    assert [feed.name for feed in lamps.feeds] == ["reserve bus"]
    assert "gear lamps" not in lamps.feeds[0].others
    assert (lamps.state, compass.remarks) == (SquawkState.OPEN, ())
    remark, clip = lamps.remarks[0]
    assert (remark.by, clip is not None and clip.content[:4]) == ("B. Invented", b"RIFF")


def test_spin_ups_cautions_and_haste_are_told(report: RunReport) -> None:
    """Beside what the check allows."""
    first, second = report.spin_ups
    assert (first.gyro, first.seconds, first.advise_seconds, first.limit_seconds) == (
        "left attitude gyro",
        44.2,
        45,
        90,
    )
    assert (second.is_pulled, second.outcome) == (False, Outcome.SQUAWK)
    assert [item.item.name for item in report.with_outcome(Outcome.CAUTION)] == ["volts on reserve"]
    assert [item.item.name for item in report.put_off] == ["fire warning"]
    (hasty,) = report.hasty
    assert hasty.standing is not None
    assert haste_words(hasty.standing) == "after 0.4 s"


def test_the_battery_line_is_amperes_times_hours(report: RunReport) -> None:
    """Reckoned here from the plan: reserve amperes from the selection's onset to that of the restoration."""
    chosen = {item.item.name: item.standing for item in report.items}
    begun, over = chosen["reserve selected"], chosen["selector restored"]
    assert begun is not None
    assert over is not None
    plan = report.basis.plan
    used = plan.battery_amps["reserve"] * (over.at - begun.at) / 3600
    rest = plan.battery_amps["off"] * ((report.ended_at or 0.0) - over.at) / 3600
    assert report.summary.ampere_hours == pytest.approx(used + rest)
    assert battery_words(report).startswith(
        f"{used + rest:.2f} Ah of {plan.usable_ampere_hours:.1f} Ah usable"
    )


def test_the_course_tells_what_is_no_answer(report: RunReport) -> None:
    """Put off, held, by keys, late flags, the end."""
    assert [(each.item, each.words) for each in report.incidents] == [
        ("gear lamps", "reopened by a correction"),
        ("fire warning", "put off"),
        ("", "held on standby"),
        ("", "went on after 2 s"),
        ("", "answers by keys: room loud"),
        ("left compass", "flag still in view at the advise time"),
        ("left compass", "flag still in view at the limit"),
        ("", "complete"),
    ]


def test_expected_words_tell_what_passes(report: RunReport) -> None:
    """Bands, times, labels: the check file's own."""
    expected = {item.item.name: item.item.body.expected() for item in report.items}
    assert expected["volts on reserve"] == "24.8 to 26.3 volts; caution 24.8 to 26.5; stop below 20.0"
    assert expected["left compass"] == "advise 60 s, limit 120 s"
    assert expected["second radio fit"] == "new set or old set"
    assert expected["gear lamps"] == "three green"


def test_a_run_that_stopped_half_way_is_reported_as_far_as_it_went(logbook: Logbook) -> None:
    """Open, with the selector still on reserve and its items unanswered."""
    run = write_busy_run(logbook, stop_after="volts on reserve")
    report = _reported(logbook, run)
    assert (report.state, report.ended_at, report.selector_left_at) == (RunState.OPEN, None, "reserve")
    assert len(report.in_state(ItemState.OPEN)) > 10
    assert report.spin_ups == ()


def test_a_damaged_record_is_reported_up_to_where_it_breaks(logbook: Logbook) -> None:
    """The fault is in the report, and the hash is that of the last whole line."""
    run = write_busy_run(logbook)
    with logbook.writing() as connection:
        connection.execute("UPDATE line SET text = text || ' ' WHERE sequence = 9 AND chain = 2")
    report = _reported(logbook, run)
    assert report.proof.lines == 9
    assert "line 9" in (report.proof.fault or "")
    (stored,) = logbook.rows("SELECT digest FROM line WHERE sequence = 8 AND chain = 2")
    assert report.proof.sha256 == stored[0]


def test_a_clip_that_is_gone_is_told_and_takes_nothing_with_it(logbook: Logbook) -> None:
    """The rest of the report stands."""
    run = write_busy_run(logbook)
    for path in logbook.clips.iterdir():
        path.unlink()
    (note,) = _reported(logbook, run).notes
    assert note.clip is not None
    assert note.clip.content == b""
    assert "No such file" in (note.clip.fault or "")
