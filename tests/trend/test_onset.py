from runner.trend.onset import Onset, onset
from runner.trend.series import DAY

TIMES = [run * DAY for run in range(10)]


def test_a_step_begins_at_its_first_run() -> None:
    """Wherever the sum put it."""
    off = [0.1, -0.1, 0.0, 0.1, 4.0, 4.1, 3.9, 4.0, 4.1, 3.9]
    for named in (2, 4, 6):
        assert onset(TIMES, off, named) == Onset(4, is_rise=False)


def test_a_rise_begins_at_its_first_run() -> None:
    """Up or down."""
    off = [0.1, -0.1, 0.0, 0.1, 1.0, 2.1, 2.9, 4.0, 5.1, 5.9]
    assert onset(TIMES, off, 6) == Onset(4, is_rise=True)
    assert onset(TIMES, [-value for value in off], 6) == Onset(4, is_rise=True)


def test_real_time_counts_and_not_the_number_of_runs() -> None:
    """After a long pause the same rate has come further."""
    times = [*TIMES[:6], 30 * DAY, 31 * DAY, 32 * DAY, 33 * DAY]
    off = [0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 25.0, 26.0, 27.0, 28.0]
    assert onset(times, off, 6) == Onset(6, is_rise=True)
    assert onset(TIMES, off, 6) == Onset(6, is_rise=False)


def test_runs_at_one_time_make_a_step() -> None:
    """Nothing rises in no time."""
    assert not onset([0.0] * 6, [0.0, 0.0, 0.0, 2.0, 3.0, 4.0], 3).is_rise


def test_a_rise_takes_three_runs_to_be_told_from_a_step() -> None:
    """Two that rise are laid to the run before them as well: left 3/7 by hand, a step at their first 1/2."""
    assert onset(TIMES, [0.0] * 8 + [1.0, 2.0], 8) == Onset(7, is_rise=True)
    assert onset(TIMES, [0.0] * 7 + [1.0, 2.0, 3.0], 8) == Onset(7, is_rise=True)
    assert onset(TIMES, [0.0] * 8 + [10.0, 11.0], 8) == Onset(8, is_rise=False)


def test_a_step_is_looked_for_twelve_runs_before_and_after_the_named_one() -> None:
    """The nearest place to it where it lies further off."""
    times = [run * DAY for run in range(40)]
    off = [0.0] * 20 + [1.0] * 20
    found = {named: onset(times, off, named).place for named in (7, 8, 32, 33)}
    assert found == {7: 19, 8: 20, 32: 20, 33: 21}
