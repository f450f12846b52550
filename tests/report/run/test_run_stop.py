"""Stops in every kind of report, and in the lists of the records."""

import csv
import io
import json
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from pypdf import PdfReader

from runner.command import history, show, squawk
from runner.core.answer_origin import AnswerOrigin, Reception
from runner.core.record.entry import (
    AbandonStarted,
    AnswerRecorded,
    CautionsTaken,
    Entry,
    RunAbandoned,
    RunStarted,
    Stopped,
    StopSquawked,
    StopWithdrawn,
)
from runner.language.catalogue import Word
from runner.logbook.carry.run_export import KeptFiles
from runner.logbook.proof.audit import audit
from runner.logbook.record.run_store import Logbook
from runner.place import data_folder
from runner.report.draw.paper import PaperSize, pdf_of
from runner.report.fleet.airplane_report import fleet_report
from runner.report.report_page import run_page
from runner.report.run.run_csv import run_csv
from runner.report.run.run_json import run_dict
from runner.report.run.run_report import RunReport, run_report
from runner.report.run.run_sheet import run_sheet
from runner.report.run.run_stop import left_moved
from runner.report.run.run_wording import run_words
from runner.session.parts import load_parts
from tests.command.records import asked
from tests.core import danger
from tests.core.sample import Run, finish
from tests.report.run_sample import CHECK, MAKER, STARTED_AT, answered, basis_of


def stopped(at: float, item: str, words: str, unit: str = "") -> Stopped:
    """By voice, half a second before."""
    origin = AnswerOrigin(at - 0.5, 2.0, is_hasty=False, reception=Reception(words, 0.9, "voice"))
    return Stopped(at, item, words, unit, origin)


def entries() -> Iterator[Entry]:
    """One stop taken back, one remedied and written down as a squawk, one that stands at the end."""
    parts = load_parts(CHECK)
    volts, lamps = parts.check.item("battery at rest"), parts.check.item("gear lamps")
    yield RunStarted(STARTED_AT)
    yield CautionsTaken(STARTED_AT + 10)
    yield stopped(STARTED_AT + 20, volts.name, "19.9", "volts")
    yield StopWithdrawn(STARTED_AT + 22, volts.name)
    yield stopped(STARTED_AT + 25, volts.name, "19.0", "volts")
    yield StopSquawked(STARTED_AT + 27, volts.name, "19.0", "volts")
    yield answered(STARTED_AT + 85, volts)
    yield stopped(STARTED_AT + 100, lamps.name, "smoke")
    yield AbandonStarted(STARTED_AT + 110)
    yield RunAbandoned(STARTED_AT + 120)


@dataclass(frozen=True, slots=True)
class Made:
    """The run with its stops, on disk and as a report."""

    folder: Path
    run: str
    report: RunReport


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """Written entry by entry, as a live run is."""
    folder, parts = tmp_path_factory.mktemp("logbook"), load_parts(CHECK)
    with Logbook.open(folder) as logbook:
        with logbook.create_run(
            check=parts.check.name,
            check_text=parts.check_text,
            airplane=parts.check.airplane,
            airplane_text=parts.airplane_text,
            registration=parts.registration,
            pilot="A. Invented",
            started_at=STARTED_AT,
            oat_celsius=4.0,
            series=parts.series,
        ) as handle:
            for entry in entries():
                handle.append(entry)
        report = run_report(
            logbook, KeptFiles(logbook, logbook.clips), handle.run, basis_of(logbook, handle.run), MAKER
        )
    return Made(folder, handle.run, report)


def test_stops_are_listed_as_their_own_thing(made: Made) -> None:
    """Item, what, when, and what became of it."""
    stops = [(one.item.name, one.stop.what, one.became(STARTED_AT)) for one in made.report.stops]
    assert stops == [
        ("battery at rest", "19.9 volts", "taken back 00:22.0"),
        ("battery at rest", "19.0 volts", "remedied 01:25.0, written down as a squawk"),
        ("gear lamps", "smoke", "NOT REMEDIED"),
    ]


def test_a_stop_is_no_squawk_unless_the_pilot_said_so(made: Made) -> None:
    """And then the answer that remedied it leaves the squawk where it is."""
    assert [(one.item.name, one.given.answer) for one in made.report.squawks] == [
        ("battery at rest", "19.0 volts")
    ]
    listed = asked(squawk, "list", "--logbook", str(made.folder))
    assert "battery at rest (stop squawk)" in listed


def test_the_page_has_them_before_the_squawks(made: Made) -> None:
    """With the word stop, and never a word of fitness."""
    page = run_page(made.report)
    assert page.index('id="stops"') < page.index('id="squawks"')
    assert '<span class="tag stop">stop</span>' in page
    assert "NOT REMEDIED" in page
    assert "2 stops, 1 squawk" in page


def test_the_paper_has_them(made: Made) -> None:
    """Read back out of the PDF by another library."""
    pages = PdfReader(io.BytesIO(pdf_of(run_sheet(made.report), PaperSize.A4))).pages
    text = " ".join(" ".join(page.extract_text() for page in pages).split())
    assert "19.0 volts; remedied 01:25.0, written down as a squawk" in text
    assert "smoke; NOT REMEDIED" in text


def test_the_table_of_values_has_a_row_for_each(made: Made) -> None:
    """Marked as stopped, with the time of the remedy where there is one."""
    rows = [row for row in csv.DictReader(io.StringIO(run_csv(made.report))) if row["standing"] == "stopped"]
    assert [(row["item"], row["value"], row["answer"], row["outcome"]) for row in rows] == [
        ("battery at rest", "19.9", "19.9", "stop"),
        ("battery at rest", "19", "19.0", "stop"),
        ("gear lamps", "", "smoke", "stop"),
    ]
    assert sorted(row["remedied_utc"] for row in rows) == ["", "", "2025-11-25T09:21:25.000Z"]


def test_the_document_has_them_and_fits_its_schema(made: Made) -> None:
    """JSON Schema 2020-12, checked by jsonschema."""
    document = run_dict(made.report)
    schema = json.loads((data_folder("checklists") / "schema" / "report.schema.json").read_text())
    Draft202012Validator(schema).validate(json.loads(json.dumps(document)))
    assert [(one["answer"], one["remedied_at"]) for one in document["stops"]] == [
        ("19.9", None),
        ("19.0", STARTED_AT + 85),
        ("smoke", None),
    ]
    assert document["stops"][0]["withdrawn_at"] == STARTED_AT + 22


def test_history_and_the_airplanes_report_count_them(made: Made) -> None:
    """Two that stood; the one that was taken back is none."""
    head, row = asked(history, "--logbook", str(made.folder)).splitlines()
    place = {name: head.index(name) for name in ("result", "stops", "squawks")}
    told = [row[at:].split()[0] for at in place.values()]
    assert told == ["abandoned", "2", "1"], (head, row)
    with Logbook.open(made.folder) as logbook:
        fleet = fleet_report(logbook, ("QQ-ML2",), partial(basis_of, logbook), MAKER)
        (run,) = fleet.airplanes[0].runs
        assert run_words(run) == "abandoned, 2 stops, 1 squawk"
        assert audit(logbook).is_whole


def test_show_tells_each_entry_and_each_stop(made: Made) -> None:
    """In the course of the record, and again below it."""
    shown = asked(show, "--logbook", str(made.folder))
    assert "STOP 19.0 volts" in shown
    assert "  stop, taken back 00:22.0: battery at rest: 19.9 volts" in shown
    assert "  stop, remedied 01:25.0: battery at rest: 19.0 volts" in shown
    assert "  stop, NOT REMEDIED: gear lamps: smoke" in shown
    as_json = json.loads(asked(show, "--json", "--logbook", str(made.folder)))
    assert [stop["answer"] for stop in as_json["stops"]] == ["19.9 volts", "19.0 volts", "smoke"]


def test_what_was_moved_and_is_not_back_is_told() -> None:
    """A return that failed; a run that was left; nothing of a run that put everything back."""
    run = danger.dimmed().say(Word.ABANDON).say(Word.AFFIRM)
    assert left_moved(run.machine.progress) == ("heater", "dimmer")
    run.pick("lights bright", "lights bright").pick("heater off", "heater off jammed").pick(
        "normal", "normal"
    )
    assert left_moved(run.machine.progress) == ("heater",)
    assert left_moved(danger.begun().pick("area", "clear").machine.progress) == ("selector",)
    assert left_moved(finish(Run(danger.PLAN).start()).machine.progress) == ()


def test_what_is_not_back_warns_on_the_page_and_in_the_document(made: Made) -> None:
    """The selector's own warning stands beside it where its position is known."""
    report = made.report
    assert report.left_moved == ()
    assert "not on record as put back" not in run_page(report)
    assert run_dict(report)["left_moved"] == []
    left = replace(report, left_moved=("heater", "dimmer"))
    assert (
        "heater and dimmer may be left moved: asked for in this run, not on record as put back."
        in run_page(left)
    )
    assert run_dict(left)["left_moved"] == ["heater", "dimmer"]


def test_no_answer_of_the_record_is_a_stop(made: Made) -> None:
    """Items keep their own answers."""
    given = [one for item in made.report.items for one in item.given]
    assert all(one.outcome != "stop" for one in given)
    assert sum(isinstance(entry, AnswerRecorded) for entry in entries()) == len(given)
