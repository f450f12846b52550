from dataclasses import astuple, replace

from hypothesis import given
from hypothesis import strategies as st

from runner.core.answer_origin import AnswerOrigin, Reception
from runner.core.event import Channel
from runner.core.record.answer_history import RunState, history_of
from runner.core.record.entry import (
    ClockEnded,
    ClockStarted,
    DeclaredUnable,
    Entry,
    Held,
    PutOff,
    Reopened,
    RunAbandoned,
    RunCompleted,
    Stopped,
    StopSquawked,
    StopWithdrawn,
)
from runner.core.record.given_answer import AnswerKind, answer_in, superseded_in
from runner.language.catalogue import Outcome
from tests.logbook.sample import STARTED_AT, answer, whole_run


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
    truth = history_of(whole_run())
    assert truth.standing["volts"].value == 21.4
    assert truth.standing["left_flag"].kind is AnswerKind.SPIN_UP
    assert (truth.count(Outcome.SQUAWK), truth.count(Outcome.CAUTION)) == (1, 1)
    assert (truth.state, truth.ended_at) == (RunState.COMPLETE, STARTED_AT + 60)


def test_a_stop_stands_beside_the_answer_that_remedied_it() -> None:
    """So does the squawk that the pilot made of it; a correction takes back the stop alone."""
    squawked = StopSquawked(STARTED_AT + 8, "volts", "19.0", "volts")
    safe = answer(STARTED_AT + 9, "volts", "24.6", Outcome.PASS, "volts")
    truth = history_of([stopped("volts"), squawked, safe])
    assert [(name, each.answer, each.outcome) for name, each in truth.standing.items()] == [
        ("volts (stop)", "19.0 volts", Outcome.STOP),
        ("volts (stop squawk)", "19.0 volts", Outcome.SQUAWK),
        ("volts", "24.6", Outcome.PASS),
    ]
    assert (truth.count(Outcome.STOP), truth.count(Outcome.SQUAWK)) == (1, 1)
    assert all(each.value is None for name, each in truth.standing.items() if "stop" in name)
    taken_back = history_of([stopped("volts"), StopWithdrawn(STARTED_AT + 9, "volts")])
    assert taken_back.standing == {}


def flag(at: float, item: str, seconds: float, *, is_pulled: bool, outcome: Outcome) -> ClockEnded:
    """The end of a gyro's clock, by voice."""
    return ClockEnded(at, item, seconds, is_pulled, outcome, Reception("left", 0.9, "voice"))


def test_each_kind_of_answer_stands_as_it_was_given() -> None:
    """Written by hand: words, a number, an item that could not be done, a flag stuck and one pulled."""
    at = STARTED_AT
    truth = history_of(
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
        (*astuple(each)[:7], each.response_seconds, each.is_hasty) for each in truth.standing.values()
    ] == [
        ("lamps", kind.NAMED, "left out", None, "", caution, at + 9.5, 2.0, False),
        ("volts", kind.READING, "21.40", 21.4, "volts", squawk, at + 19.5, 2.0, False),
        ("radio", kind.UNABLE, "unable", None, "", None, at + 30, None, False),
        ("left_flag", kind.SPIN_UP, "flag stuck", 80.5, "seconds", squawk, at + 90, None, False),
        ("right_flag", kind.SPIN_UP, "flag pulled", 30.5, "seconds", Outcome.PASS, at + 40, None, False),
    ]
    assert (truth.count(Outcome.SQUAWK), truth.count(Outcome.CAUTION), truth.count(Outcome.PASS)) == (2, 1, 1)
    assert (truth.state, truth.ended_at) == (RunState.OPEN, None)


def test_a_gyro_that_got_power_anew_has_no_time_until_it_pulls_again() -> None:
    """Its trigger was corrected: the old seconds count from the wrong moment."""
    entries = [*list(whole_run())[:10], ClockStarted(STARTED_AT + 50, "left_flag")]
    assert "left_flag" not in history_of(entries).standing


def test_an_abandoned_run_has_ended_as_such() -> None:
    """Neither open nor complete."""
    assert history_of([RunAbandoned(STARTED_AT)]).state is RunState.ABANDONED
    assert history_of([]).state is RunState.OPEN
    assert history_of([RunCompleted(STARTED_AT)]).state is RunState.COMPLETE


@given(entries=st.lists(ENTRIES, max_size=12))
def test_what_stands_is_the_last_that_the_record_says_of_it(entries: list[Entry]) -> None:
    """Found the other way round: from the end of the record, the first entry about an item decides."""
    decided: dict[str, Entry] = {}
    for entry in reversed(entries):
        answer = answer_in(entry)
        name = superseded_in(entry) if answer is None else answer.item
        if name is not None:
            decided.setdefault(name, entry)
    last = {name: found for name, entry in decided.items() if (found := answer_in(entry)) is not None}
    history = history_of(entries)
    assert history.standing == last
    counted = [found for found in map(answer_in, entries) if found is not None]
    assert sum(map(len, history.given.values())) == len(counted)
    assert all(
        one.stands == (one is found[-1] and name in last)
        for name, found in history.given.items()
        for one in found
    )


def test_an_answer_that_was_taken_back_says_when() -> None:
    """Both of the corrected reading, oldest first; the first was over when it was reopened."""
    first, last = history_of(whole_run()).given["volts"]
    assert (first.answer, first.superseded_at, first.stands) == ("24.6", STARTED_AT + 16, False)
    assert (last.answer, last.superseded_at, last.stands) == ("21.40", None, True)


def test_an_item_keeps_the_times_at_which_it_was_put_off() -> None:
    """Each of them."""
    entries = [
        PutOff(STARTED_AT + 1, "lamps"),
        PutOff(STARTED_AT + 2, "volts"),
        PutOff(STARTED_AT + 3, "lamps"),
    ]
    assert history_of(entries).put_off_at == {
        "lamps": (STARTED_AT + 1, STARTED_AT + 3),
        "volts": (STARTED_AT + 2,),
    }


def test_an_answer_knows_whether_a_key_gave_it() -> None:
    """By voice, by a key, and of an item that could not be done, of which nothing is kept."""
    by_voice = answer(STARTED_AT + 1, "lamps", "lit", Outcome.PASS)
    keyed = replace(by_voice.origin, reception=Reception("l", 1.0, Channel.KEYS.value))
    entries: list[Entry] = [
        by_voice,
        replace(by_voice, item="volts", origin=keyed),
        DeclaredUnable(STARTED_AT + 3, "radio"),
    ]
    assert [each.is_keyed for each in history_of(entries).standing.values()] == [False, True, False]
