"""What a report says in words about a squawk and a run."""

import pytest

from runner.core.record.answer_history import RunState
from runner.logbook.record.summary_table import RunSummary
from runner.logbook.squawk.deferral import QUESTIONS, STANDING
from runner.logbook.squawk.maintenance_record import Closed, Deferred, Noted, Remark
from runner.report.run.run_wording import counted, remark_words, run_words

AS_ASKED = {question.paragraph: question.asked_for for question in QUESTIONS}


@pytest.mark.parametrize(
    ("remark", "words"),
    [
        (Noted(1.0, "A. Invented", "lamps", "bulb ordered"), "noted: bulb ordered"),
        (Noted(1.0, "A. Invented", "lamps", "", "a.wav"), "noted in sound"),
        (
            Deferred(1.0, "A. Invented", "lamps", "page 7", "2026-12-01"),
            "deferred until 2026-12-01 on page 7",
        ),
        (
            Deferred(1.0, "A. Invented", "lamps", "page 7", "2026-12-01", AS_ASKED),
            f"deferred until 2026-12-01 on page 7. All answers are as 91.213(d) asks. {STANDING}",
        ),
        (
            Deferred(1.0, "A. Invented", "lamps", "page 7", "2026-12-01", AS_ASKED | {"d4": False}),
            f"deferred until 2026-12-01 on page 7. Not as 91.213(d) asks: d4. {STANDING}",
        ),
        (
            Deferred(1.0, "A. Invented", "lamps", "page 7", "2026-12-01", {"d1": True}),
            f"deferred until 2026-12-01 on page 7. Not answered: d2i, d2ii, d2iii, d2iv, d3, d4. {STANDING}",
        ),
        (Closed(1.0, "A. Invented", "lamps", "bulb replaced"), "closed: bulb replaced"),
    ],
    ids=["noted", "in sound", "deferred", "as asked", "not as asked", "not answered", "closed"],
)
def test_a_remark_says_what_a_person_recorded(remark: Remark, words: str) -> None:
    """A deferral brings what its answers come to, and decides nothing."""
    assert remark_words(remark) == words


@pytest.mark.parametrize(
    ("state", "squawks", "cautions", "words"),
    [
        (RunState.COMPLETE, 0, 0, "complete"),
        (RunState.COMPLETE, 1, 2, "complete, 1 squawk, 2 cautions"),
        (RunState.ABANDONED, 0, 1, "abandoned, 1 caution"),
        (RunState.OPEN, 2, 0, "open, 2 squawks"),
    ],
)
def test_a_run_in_a_list_says_what_came_of_it(
    state: RunState, squawks: int, cautions: int, words: str
) -> None:
    """Counts of nothing are left out."""
    run = RunSummary(
        "run", 0.0, None, state, "check", "lark", "X-LARK", "A. Invented", None, cautions, squawks,
        is_invented=True,
    )  # fmt: skip
    assert run_words(run) == words


def test_nothing_is_counted_as_no() -> None:
    """`0 squawks` would be read as a figure."""
    assert [counted(count, "squawk") for count in range(3)] == ["no squawks", "1 squawk", "2 squawks"]
