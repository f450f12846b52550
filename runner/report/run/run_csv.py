"""The report of a run as comma-separated values: a row an answer, corrected ones and missing ones as well."""

from collections.abc import Iterator
from typing import Final

from runner.core.answer_origin import AnswerOrigin
from runner.core.record.danger_stop import Stop
from runner.core.record.given_answer import GivenAnswer
from runner.language.catalogue import Outcome
from runner.report.draw.csv_text import Cell, csv_text
from runner.report.draw.stamp import iso_stamp
from runner.report.run.run_item import ItemState, RunItem
from runner.report.run.run_report import RunReport

OF_AN_ANSWER: Final = (
    *("utc", "seconds_into_check", "answer", "value", "unit", "outcome"),
    *("response_s", "is_hasty", "heard", "confidence", "channel", "corrected_utc"),
)
"""Columns that are empty where an item has no answer."""

HEADS: Final = (
    *("run", "registration", "airplane", "check", "pilot", "is_invented"),
    *("section", "item", "challenge", "is_critical", "expected", "low", "high", "advise_s", "limit_s"),
    "standing",
    *OF_AN_ANSWER,
    *("put_off", "remedied_utc"),
)
SUPERSEDED: Final = "corrected"
"""`standing` of an answer that was taken back; other rows have the item's state, or STOPPED."""

STOPPED: Final = "stopped"
"""`standing` of a stop, which is no answer; `remedied_utc` is empty where it was not remedied."""


def run_csv(report: RunReport) -> str:
    """The whole file's text."""
    return csv_text(HEADS, _rows(report))


def _rows(report: RunReport) -> Iterator[tuple[Cell, ...]]:
    header = report.header
    of_run = (
        header.run,
        header.registration,
        header.airplane,
        header.check,
        header.pilot,
        header.is_invented,
    )
    for item in report.items:
        figures = item.item.body.figures()
        of_item = (
            item.section,
            item.item.name,
            item.item.challenge,
            item.item.critical,
            item.item.body.expected(),
            *figures.get("pass", (None, None)),
            figures.get("advise"),
            figures.get("limit"),
        )
        for given in item.given:
            state = item.state.value if given.stands else SUPERSEDED
            yield (*of_run, *of_item, state, *_answer(given, header.started_at), len(item.put_off_at), None)
        if item.standing is None:
            yield (*of_run, *of_item, _missing(item), *[None] * len(OF_AN_ANSWER), len(item.put_off_at), None)
        for stop in report.stops:
            if stop.item == item.item:
                yield (*of_run, *of_item, *_stop(stop.stop, header.started_at, len(item.put_off_at)))


def _stop(stop: Stop, started_at: float, put_off: int) -> tuple[Cell, ...]:
    found = stop.found
    return (
        STOPPED,
        iso_stamp(stop.at),
        stop.at - started_at,
        found.answer,
        float(found.answer) if found.unit else None,
        found.unit,
        Outcome.STOP.value,
        *_origin(found.origin),
        None if stop.withdrawn_at is None else iso_stamp(stop.withdrawn_at),
        put_off,
        None if stop.remedied_at is None else iso_stamp(stop.remedied_at),
    )


def _missing(item: RunItem) -> str:
    """The state of an item that no answer stands for."""
    return (ItemState.OPEN if item.state is ItemState.ANSWERED else item.state).value


def _answer(answer: GivenAnswer, started_at: float) -> tuple[Cell, ...]:
    return (
        iso_stamp(answer.at),
        answer.at - started_at,
        answer.answer,
        answer.value,
        answer.unit,
        "" if answer.outcome is None else answer.outcome.value,
        *_origin(answer.origin),
        None if answer.superseded_at is None else iso_stamp(answer.superseded_at),
    )


def _origin(origin: AnswerOrigin | None) -> tuple[Cell, ...]:
    """How an answer was given; nothing where the record keeps nothing of it."""
    if origin is None:
        return None, False, "", None, ""
    received = origin.reception
    return origin.response_seconds, origin.is_hasty, received.text, received.confidence, received.channel
