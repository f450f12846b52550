from dataclasses import replace

from runner.report.trend.trend_graph import ROWS, graph
from runner.trend.judged_series import trend_of
from runner.trend.series import Limits
from tests.report.trend_sample import drifting
from tests.trend.sample import gyro


def test_each_run_has_one_mark_and_runs_that_are_off_another() -> None:
    """As many as there are runs; the drift's own stand above the usual line."""
    trend = trend_of(drifting())
    lines = graph(trend)
    plot = [line.split("|", 1)[1] for line in lines[:ROWS]]
    assert sum(line.count("o") + line.count("X") for line in plot) == 36
    off = sum(point.at >= (trend.verdict.since or 0) for point in trend.points)
    assert sum(line.count("X") for line in plot) == off
    assert "X" in plot[0]
    assert lines[-1].strip() == "2025-01-01 to 2025-09-03, one column a run"


def test_a_limit_is_drawn_when_it_is_near_and_left_out_when_far() -> None:
    """A far one would press the runs into one row."""
    near = trend_of(replace(gyro(20), limits=Limits(high=43.0)))
    assert any("=" in line for line in graph(near))
    assert not any("=" in line for line in graph(trend_of(gyro(20))))


def test_only_as_many_runs_as_there_are_columns_are_drawn() -> None:
    """The newest, within eighty columns."""
    lines = graph(trend_of(gyro(200)))
    assert max(map(len, lines)) <= 78
    assert "2028-10-25" in lines[-1]


def test_too_few_runs_are_not_drawn_and_equal_ones_are() -> None:
    """A flat line is a picture as well."""
    assert graph(trend_of(gyro(3))) == []
    assert len(graph(trend_of(gyro(20, scatter=0.0)))) == ROWS + 2
