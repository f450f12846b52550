"""Records as earlier versions wrote them: what they say, and where a run goes on from them, never changes."""

import json
from pathlib import Path
from typing import Any

import pytest

from runner.core.ask.agenda import state_of
from runner.core.ask.outlook import outlook_of
from runner.core.event import Started
from runner.core.grid.machine import Machine
from runner.core.plan import Plan
from runner.core.record.codec import from_json, to_json
from runner.core.record.entry import Entry
from runner.core.record.fold import fold
from runner.core.record.run_summary import summarise
from tests.core import danger
from tests.core.sample import PLAN

GOLDEN = sorted((Path(__file__).parent / "golden").glob("*.json"))
"""Each holds the entries of one run of a sample check, what its fold said, and where it went on."""


def record_of(path: Path) -> tuple[dict[str, Any], Plan, tuple[Entry, ...]]:
    """The file, the plan that it is a run of, and its entries."""
    document = json.loads(path.read_text())
    plan = danger.PLAN if document.get("plan") == "with stops" else PLAN
    return document, plan, tuple(from_json(entry) for entry in document["entries"])


def facts_of(plan: Plan, entries: tuple[Entry, ...]) -> dict[str, Any]:
    """What the fold of a record says."""
    progress, at = fold(plan, entries), entries[-1].at
    summary, outlook = summarise(progress, at), outlook_of(progress)
    return {
        "state": state_of(progress).value,
        "item": None if outlook.item is None else outlook.item.name,
        "question": outlook.question,
        "answers": {
            name: [answer.answer, answer.unit, answer.outcome.value]
            for name, answer in progress.answers.items()
        },
        "squawks": [answer.item for answer in summary.squawks],
        "cautions": [answer.item for answer in summary.cautions],
        "unable": list(summary.unable),
        "unanswered": list(summary.unanswered),
        "put_off": list(progress.put_off),
        "clocks": {
            name: None if clock.ended is None else clock.ended.seconds
            for name, clock in progress.clocks.items()
        },
        "running": {clock.item: round(clock.elapsed(at), 3) for clock in progress.open_clocks},
        "corrections": summary.corrections,
        "holds": summary.holds,
        "interruptions": summary.interruptions,
        "ampere_hours": round(summary.ampere_hours, 9),
    }


@pytest.mark.parametrize("path", GOLDEN, ids=lambda path: path.stem)
def test_an_earlier_record_says_what_it_said(path: Path) -> None:
    """State, answers, squawks and the seconds of its clocks; written again, it is the same record."""
    document, plan, entries = record_of(path)
    assert facts_of(plan, entries) == document["facts"]
    assert [to_json(entry) for entry in entries] == document["entries"]


@pytest.mark.parametrize("path", GOLDEN, ids=lambda path: path.stem)
def test_an_earlier_run_goes_on_where_it_went_on(path: Path) -> None:
    """Reopened a minute later: the same state, item and question."""
    document, plan, entries = record_of(path)
    machine = Machine(plan, entries)
    machine.handle(Started(entries[-1].at + 60.0))
    outlook = outlook_of(machine.progress)
    item = None if outlook.item is None else outlook.item.name
    resumed = {"state": machine.state.value, "item": item, "question": outlook.question}
    assert resumed == document["resumed"]


def test_the_golden_records_cover_every_state_that_a_record_can_stand_in() -> None:
    """And both endings."""
    states = {json.loads(path.read_text())["facts"]["state"] for path in GOLDEN}
    assert states >= {
        *("briefing", "asking", "confirming", "waiting", "holding", "noting", "restoring", "stopped"),
        *("complete", "abandoned"),
    }
    assert len(GOLDEN) >= 21
