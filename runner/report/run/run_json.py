"""The report of a run as plain data for JSON; `checklists/schema/report.schema.json` describes it."""

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any, Final

from runner.core.record.given_answer import GivenAnswer
from runner.language.catalogue import STANDING_CAUTION
from runner.logbook.squawk.maintenance_record import record_json
from runner.report.draw.stamp import iso_stamp
from runner.report.fleet.airplane_trend import AirplaneTrends
from runner.report.origin import Maker
from runner.report.run.run_item import RunItem
from runner.report.run.run_report import RunNote, RunReport, RunSquawk
from runner.report.run.run_stop import RunStop
from runner.trend.verdict_wording import line

FORMAT: Final = 1
"""Number of the documents' form; a reader refuses others."""


def run_dict(report: RunReport) -> dict[str, Any]:
    """The document. Times named `at` are seconds since the epoch, `utc` the same as RFC 3339."""
    return {
        **head_dict("run", report.maker),
        "run": _run(report),
        "record": _record(report),
        "battery": {
            "ampere_hours": round(report.summary.ampere_hours, 4),
            "usable_ampere_hours": round(report.basis.plan.usable_ampere_hours, 4),
            "warn_share": report.basis.plan.warn_share,
            "warned_at": report.battery_warned_at,
        },
        "selector_left_at": report.selector_left_at or None,
        "left_moved": list(report.left_moved),
        "stops": [_stop(stop) for stop in report.stops],
        "items": [_item(item) for item in report.items],
        "squawks": [_squawk(squawk) for squawk in report.squawks],
        "spin_ups": [asdict(time) for time in report.spin_ups],
        "notes": [_note(note) for note in report.notes],
        "course": [{"at": each.at, "item": each.item, "words": each.words} for each in report.incidents],
        "trends": trends_list(report.trends),
    }


def head_dict(kind: str, maker: Maker) -> dict[str, Any]:
    """What every document begins with."""
    return {
        "format": FORMAT,
        "kind": kind,
        "caution": STANDING_CAUTION,
        "made": {"at": maker.at, "utc": iso_stamp(maker.at), "tool": maker.tool},
        "logbook": dict(maker.witness.as_json()),
    }


def trends_list(trends: AirplaneTrends) -> list[dict[str, Any]]:
    """Each series with its verdict; `eyesout trend --json` has the numbers behind it."""
    return [
        {
            "name": trend.series.name,
            "quantity": trend.series.quantity.value,
            "unit": trend.series.unit,
            "runs": trend.verdict.runs,
            "state": trend.verdict.state.value,
            "words": line(trend),
        }
        for trend in trends.trends
    ]


def moment_dict(at: float) -> dict[str, Any]:
    """A time twice."""
    return {"at": at, "utc": iso_stamp(at)}


def _run(report: RunReport) -> dict[str, Any]:
    header = report.header
    return {
        "run": header.run,
        "state": report.state.value,
        "started": moment_dict(header.started_at),
        "ended": None if report.ended_at is None else moment_dict(report.ended_at),
        "check": header.check,
        "check_title": report.basis.check.title,
        "airplane": header.airplane,
        "airplane_title": report.basis.airplane_title,
        "registration": header.registration,
        "pilot": header.pilot,
        "oat_celsius": header.oat_celsius,
        "made_with": header.made_with,
        "is_invented": header.is_invented,
    }


def _record(report: RunReport) -> dict[str, Any]:
    return {
        "lines": report.proof.lines,
        "sha256": report.proof.sha256 or None,
        "fault": report.proof.fault,
        "check_sha256": report.header.check_sha256,
        "airplane_sha256": report.header.airplane_sha256,
    }


def _stop(stop: RunStop) -> dict[str, Any]:
    kept = stop.stop
    return {
        "item": stop.item.name,
        "challenge": stop.item.challenge,
        "remedy": stop.item.remedy,
        "at": kept.at,
        "answer": kept.found.answer,
        "unit": kept.found.unit,
        "remedied_at": kept.remedied_at,
        "withdrawn_at": kept.withdrawn_at,
        "squawked_at": kept.squawked_at,
    }


def _item(item: RunItem) -> dict[str, Any]:
    return {
        "item": item.item.name,
        "section": item.section,
        "challenge": item.item.challenge,
        "is_critical": item.item.critical,
        "state": item.state.value,
        "expected": {"words": item.item.body.expected(), **item.item.body.figures()},
        "put_off_at": list(item.put_off_at),
        "answers": [_answer(given) for given in item.given],
    }


def _answer(answer: GivenAnswer) -> dict[str, Any]:
    reception = None if answer.origin is None else answer.origin.reception
    return {
        "at": answer.at,
        "answer": answer.answer,
        "value": answer.value,
        "unit": answer.unit,
        "outcome": None if answer.outcome is None else answer.outcome.value,
        "response_seconds": answer.response_seconds,
        "is_hasty": answer.is_hasty,
        "heard": reception.text if reception else "",
        "confidence": reception and reception.confidence,
        "channel": reception.channel if reception else "",
        "superseded_at": answer.superseded_at,
    }


def _squawk(squawk: RunSquawk) -> dict[str, Any]:
    answer = squawk.given
    return {
        "item": squawk.item.name,
        "at": answer.at,
        "answer": answer.answer,
        "value": answer.value,
        "unit": answer.unit,
        "state": squawk.state.value,
        "shared": [{"feed": feed.name, "others": list(feed.others)} for feed in squawk.feeds],
        "records": remarks_list(remark for remark, _ in squawk.remarks),
    }


def remarks_list(remarks: Iterable[Any]) -> list[dict[str, Any]]:
    """What people recorded, each with its kind: noted, deferred, closed."""
    return [dict(record_json(remark)) for remark in remarks]


def _note(note: RunNote) -> dict[str, Any]:
    return {
        "at": note.at,
        "item": note.item,
        "seconds": note.seconds,
        "clip": "" if note.clip is None else note.clip.name,
        "fault": None if note.clip is None else note.clip.fault,
        "text": note.text,
    }
