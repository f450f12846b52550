from dataclasses import replace

from runner.core.ask import agenda
from runner.core.record.once import hand_on, once
from runner.core.record.progress import Progress
from tests.core.sample import PLAN, begun

asked: list[float | None] = []


@once
def started(progress: Progress) -> float | None:
    """When the run was started; it notes that it was asked."""
    asked.append(progress.started_at)
    return progress.started_at


def test_a_progress_is_asked_once_even_where_the_answer_is_nothing() -> None:
    """Nothing is an answer as well; another progress is another question."""
    asked.clear()
    fresh, later = Progress(PLAN), Progress(PLAN, started_at=5.0)
    assert [started(fresh), started(fresh), started(later), started(later)] == [None, None, 5.0, 5.0]
    assert asked == [None, 5.0]


def test_what_is_known_is_no_part_of_a_progress() -> None:
    """Two progresses are equal whatever was asked of them, and neither shows what it remembers."""
    asked.clear()
    one = Progress(PLAN, started_at=5.0)
    started(one)
    assert one == Progress(PLAN, started_at=5.0)
    assert "known" not in repr(one)
    started(replace(one, started_at=6.0))
    assert asked == [5.0, 6.0]


def test_only_what_is_known_is_handed_on() -> None:
    """What was never asked stays to be asked."""
    asked.clear()
    one, other = Progress(PLAN, started_at=5.0), Progress(PLAN, started_at=6.0)
    hand_on("started", one, other)
    assert started(other) == 6.0
    asked.clear()
    started(one)
    hand_on("started", one, other)
    assert started(other) == 5.0
    assert asked == [5.0]


HANDED_ON = {"frontier_of", "state_of", "item_in_force", "Progress.moved", "Progress.open_clocks"}


def test_what_is_handed_on_goes_by_the_names_of_functions() -> None:
    """Under these names a progress keeps what its functions found, and none is known that was not asked."""
    bare = replace(begun().machine.progress)
    assert bare.known == {}
    agenda.state_of(bare)
    agenda.item_in_force(bare)
    assert (bare.moved, bare.open_clocks) == ((), ())
    assert set(bare.known) >= HANDED_ON
