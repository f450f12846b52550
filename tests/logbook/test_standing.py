from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from runner.checklist.model import Outcome
from runner.core.entry import (
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
from runner.logbook.standing import AnswerKind, RunState, standing
from runner.logbook.store import Logbook
from runner.logbook.verify import audit
from tests.logbook.sample import STARTED_AT, answer, new_run, whole_run


def stopped(item: str) -> Stopped:
    """Nineteen volts."""
    at = STARTED_AT + 7
    return Stopped(
        at, item, "19.0", "volts", at - 1, 2.0, is_hasty=False, text="x", confidence=1.0, channel="keys"
    )


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
        text=st.text(max_size=5),
        confidence=st.just(1.0),
        channel=st.just("keys"),
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


def test_a_gyro_that_got_power_anew_has_no_time_until_it_pulls_again() -> None:
    """Its trigger was corrected: the old seconds count from the wrong moment."""
    entries = [*list(whole_run())[:10], ClockStarted(STARTED_AT + 50, "left_flag")]
    assert "left_flag" not in standing(entries).answers


def test_an_abandoned_run_has_ended_as_such() -> None:
    """Neither open nor complete."""
    assert standing([RunAbandoned(STARTED_AT)]).state is RunState.ABANDONED
    assert standing([]).state is RunState.OPEN
    assert standing([RunCompleted(STARTED_AT)]).state is RunState.COMPLETE


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(entries=st.lists(ENTRIES, max_size=12))
def test_the_summaries_on_disk_always_say_what_the_record_says(tmp_path: Path, entries: list[Entry]) -> None:
    """Whatever is appended, one by one, verify finds the tables equal to the fold of the record."""
    with Logbook.open(tmp_path) as logbook, new_run(logbook) as handle:
        for entry in entries:
            handle.append(entry)
        verdict = next(verdict for verdict in audit(logbook) if verdict.chain == handle.run)
        assert verdict.faults == ()
        assert logbook.entries(handle.run) == tuple(entries)
