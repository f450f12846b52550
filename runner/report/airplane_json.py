"""The report of an airplane or of a fleet as plain data for JSON, described by the same schema as a run's."""

from typing import Any

from runner.logbook.maintenance import record_json
from runner.logbook.squawk import Squawk
from runner.logbook.summary import RunSummary
from runner.report.airplane_report import AirplaneReport, FleetReport, Recurrence
from runner.report.run_json import head_dict, moment_dict, remarks_list, trends_list


def fleet_dict(report: FleetReport) -> dict[str, Any]:
    """The document; a single airplane is a fleet of one."""
    return {
        **head_dict("airplanes", report.maker),
        "airplanes": [_airplane(airplane) for airplane in report.airplanes],
    }


def _airplane(airplane: AirplaneReport) -> dict[str, Any]:
    return {
        "registration": airplane.registration,
        "title": airplane.title,
        "is_invented": airplane.is_invented,
        "runs": airplane.count,
        "unfinished": airplane.unfinished,
        "newest": [_run(run) for run in airplane.runs],
        "not_closed": [_recurrence(one) for one in airplane.recurrences],
        "closed": airplane.closed,
        "maintenance": [dict(record_json(service)) for service in airplane.services],
        "trends": trends_list(airplane.trends),
    }


def _run(run: RunSummary) -> dict[str, Any]:
    return {
        "run": run.run,
        "state": run.state.value,
        "started": moment_dict(run.started_at),
        "ended": None if run.ended_at is None else moment_dict(run.ended_at),
        "check": run.check,
        "pilot": run.pilot,
        "oat_celsius": run.oat_celsius,
        "stops": run.stops,
        "squawks": run.squawks,
        "cautions": run.cautions,
        "is_invented": run.is_invented,
    }


def _recurrence(one: Recurrence) -> dict[str, Any]:
    return {
        "item": one.item,
        "challenge": one.challenge,
        "expected": one.expected,
        "shared": [{"feed": feed.name, "others": list(feed.others)} for feed in one.feeds],
        "squawks": [_squawk(squawk) for squawk in one.squawks],
    }


def _squawk(squawk: Squawk) -> dict[str, Any]:
    return {
        "run": squawk.run,
        "at": squawk.at,
        "answer": squawk.answer,
        "value": squawk.value,
        "unit": squawk.unit,
        "state": squawk.state.value,
        "records": remarks_list(squawk.records),
    }
