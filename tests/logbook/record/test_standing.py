from dataclasses import astuple
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from runner.checklist.format.check import Outcome
from runner.core.answer_origin import AnswerOrigin, Reception
from runner.core.record.entry import (
    ClockEnded,
    ClockStarted,
    DeclaredUnable,
    Entry,
    Held,
    Reopened,
    RunAbandoned,
    RunCompleted,
    Stopped,
    StopSquawked,
    StopWithdrawn,
)
from runner.logbook.proof.audit import audit
from runner.logbook.record.run_store import Logbook
from runner.logbook.record.standing import AnswerKind, RunState, standing
from tests.logbook.sample import STARTED_AT, answer, new_run, whole_run


def stopped(item: str) -> Stopped:
    """Nineteen volts."""
    at = STARTED_AT + 7
    origin = AnswerOrigin(at - 1, 2.0, is_hasty=False, reception=Reception("x", 1.0, "keys"))
    return Stopped(at, item, "19.0", "volts", origin)


ITEMS = st.sampled_from(["volts", "lamps", "left_flag"])
ENTRIES = st.one_of(
    st.builds(
        answer,
        at=st.just(STARTED_AT + 1),
        item=ITEMS,
        words=st.sampled_from(["24.6", "21.40", "0"]),
        outcome=st.sampled_from(Outcome),
        unit=st.sampled_from(["volts", ""]),
    ),
    st.builds(ClockStarted, at=st.just(STARTED_AT + 2), item=ITEMS),
    st.builds(
        ClockEnded,
        at=st.just(STARTED_AT + 3),
        item=ITEMS,
        seconds=st.floats(0, 200),
        is_pulled=st.booleans(),
        outcome=st.sampled_from(Outcome),
        reception=st.builds(
            Reception, text=st.text(max_size=5), confidence=st.just(1.0), channel=st.just("keys")
        ),
    ),
    st.builds(Reopened, at=st.just(STARTED_AT + 4), item=ITEMS),
    st.builds(DeclaredUnable, at=st.just(STARTED_AT + 5), item=ITEMS),
    st.just(Held(STARTED_AT + 6)),
    st.builds(stopped, item=ITEMS),
    st.builds(
        StopSquawked, at=st.just(STARTED_AT + 8), item=ITEMS, answer=st.just("19.0"), unit=st.just("volts")
    ),
    st.builds(StopWithdrawn, at=st.just(STARTED_AT + 9), item=ITEMS),
)


def test_what_stands_is_the_last_answer_of_each_item() -> None:
    """The sample run: the corrected reading is gone, the gyro has its seconds, the run has ended."""
    truth = standing(whole_run())
    assert truth.answers["volts"].value == 21.4
    assert truth.answers["left_flag"].kind is AnswerKind.SPIN_UP
    assert (truth.count(Outcome.SQUAWK), truth.count(Outcome.CAUTION)) == (1, 1)
    assert (truth.state, truth.ended_at) == (RunState.COMPLETE, STARTED_AT + 60)


def test_a_stop_stands_beside_the_answer_that_remedied_it() -> None:
    """So does the squawk that the pilot made of it; a correction takes back the stop alone."""
    squawked = StopSquawked(STARTED_AT + 8, "volts", "19.0", "volts")
    safe = answer(STARTED_AT + 9, "volts", "24.6", Outcome.PASS, "volts")
    truth = standing([stopped("volts"), squawked, safe])
    assert [(name, each.answer, each.outcome) for name, each in truth.answers.items()] == [
        ("volts (stop)", "19.0 volts", Outcome.STOP),
        ("volts (stop squawk)", "19.0 volts", Outcome.SQUAWK),
        ("volts", "24.6", Outcome.PASS),
    ]
    assert (truth.count(Outcome.STOP), truth.count(Outcome.SQUAWK)) == (1, 1)
    assert all(each.value is None for name, each in truth.answers.items() if "stop" in name)
    taken_back = standing([stopped("volts"), StopWithdrawn(STARTED_AT + 9, "volts")])
    assert taken_back.answers == {}


def flag(at: float, item: str, seconds: float, *, is_pulled: bool, outcome: Outcome) -> ClockEnded:
    """The end of a gyro's clock, by voice."""
    return ClockEnded(at, item, seconds, is_pulled, outcome, Reception("left", 0.9, "voice"))


def test_each_kind_of_answer_stands_as_it_was_given() -> None:
    """Written by hand: words, a number, an item that could not be done, a flag stuck and one pulled."""
    at = STARTED_AT
    truth = standing(
        [
            answer(at + 10, "lamps", "left out", Outcome.CAUTION),
            answer(at + 20, "volts", "21.40", Outcome.SQUAWK, "volts"),
            DeclaredUnable(at + 30, "radio"),
            flag(at + 90, "left_flag", 80.5, is_pulled=False, outcome=Outcome.SQUAWK),
            flag(at + 40, "right_flag", 30.5, is_pulled=True, outcome=Outcome.PASS),
        ]
    )
    kind, caution, squawk = AnswerKind, Outcome.CAUTION, Outcome.SQUAWK
    assert [
        (*astuple(each)[:7], each.response_seconds, each.is_hasty) for each in truth.answers.values()
    ] == [
        ("lamps", kind.NAMED, "left out", None, "", caution, at + 9.5, 2.0, False),
        ("volts", kind.READING, "21.40", 21.4, "volts", squawk, at + 19.5, 2.0, False),
        ("radio", kind.UNABLE, "unable", None, "", None, at + 30, None, False),
        ("left_flag", kind.SPIN_UP, "flag stuck", 80.5, "seconds", squawk, at + 90, None, False),
        ("right_flag", kind.SPIN_UP, "flag pulled", 30.5, "seconds", Outcome.PASS, at + 40, None, False),
    ]
    assert (truth.count(Outcome.SQUAWK), truth.count(Outcome.CAUTION), truth.count(Outcome.PASS)) == (2, 1, 1)
    assert (truth.state, truth.ended_at) == (RunState.OPEN, None)


def test_the_tables_on_disk_hold_what_each_answer_said(tmp_path: Path) -> None:
    """Written by hand too, since verify compares the tables with the same fold that made them."""
    with Logbook.open(tmp_path) as logbook, new_run(logbook) as handle:
        handle.append(answer(STARTED_AT + 20, "volts", "21.40", Outcome.SQUAWK, "volts"))
        handle.append(DeclaredUnable(STARTED_AT + 30, "radio"))
        handle.append(answer(STARTED_AT + 35, "lamps", "lit", Outcome.PASS))
        handle.append(Reopened(STARTED_AT + 36, "lamps"))
        handle.append(RunAbandoned(STARTED_AT + 40))
        rows = logbook.rows("SELECT item, kind, answer, value, unit, outcome, at FROM answer ORDER BY item")
        runs = logbook.rows("SELECT state, ended_at, cautions, squawks FROM run")
    assert [tuple(row) for row in rows] == [
        ("radio", "unable", "unable", None, "", "", STARTED_AT + 30),
        ("volts", "reading", "21.40", 21.4, "volts", "squawk", STARTED_AT + 19.5),
    ]
    assert [tuple(row) for row in runs] == [("abandoned", STARTED_AT + 40, 0, 1)]


def test_a_gyro_that_got_power_anew_has_no_time_until_it_pulls_again() -> None:
    """Its trigger was corrected: the old seconds count from the wrong moment."""
    entries = [*list(whole_run())[:10], ClockStarted(STARTED_AT + 50, "left_flag")]
    assert "left_flag" not in standing(entries).answers


def test_an_abandoned_run_has_ended_as_such() -> None:
    """Neither open nor complete."""
    assert standing([RunAbandoned(STARTED_AT)]).state is RunState.ABANDONED
    assert standing([]).state is RunState.OPEN
    assert standing([RunCompleted(STARTED_AT)]).state is RunState.COMPLETE


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(entries=st.lists(ENTRIES, max_size=12))
def test_the_summaries_on_disk_always_say_what_the_record_says(tmp_path: Path, entries: list[Entry]) -> None:
    """Whatever is appended, one by one, verify finds the tables equal to the fold of the record."""
    with Logbook.open(tmp_path) as logbook, new_run(logbook) as handle:
        for entry in entries:
            handle.append(entry)
        verdict = next(verdict for verdict in audit(logbook).verdicts if verdict.chain == handle.run)
        assert verdict.faults == ()
        assert logbook.entries(handle.run) == tuple(entries)
