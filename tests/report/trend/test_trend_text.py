import json
from dataclasses import replace

from runner.report.trend.trend_json import trend_dict
from runner.report.trend.trend_text import KEY, trend_text
from tests.report.trend_sample import drifting, one
from tests.trend.sample import gyro


def test_the_table_names_each_series_with_its_verdict_and_draws_what_moved() -> None:
    """One line, one chart, and the key to its marks."""
    head, _, row, *rest = trend_text(one(drifting()))
    assert head == "QQ-ZZZ (invented)"
    assert row.split("  ")[1] == "left gyro"
    assert "drifting since" in row
    assert rest[1] == "  left gyro, seconds"
    assert rest[-1].strip() == KEY


def test_what_is_steady_is_drawn_only_when_asked_for() -> None:
    """The table is enough."""
    assert len(list(trend_text(one(gyro(20))))) == 3
    assert len(list(trend_text(one(gyro(20)), with_graphs=True))) > 10


def test_runs_without_a_measurement_are_counted() -> None:
    """A flag that never pulled is no number of seconds."""
    lines = list(trend_text(one(replace(gyro(20), left_out=2))))
    assert lines[-1] == "  left gyro: 2 left out, flag never pulled"


def test_the_json_has_the_words_and_the_numbers_behind_them() -> None:
    """All of it plain values; one entry a run."""
    document = json.loads(json.dumps(trend_dict(one(drifting()))))
    (series,) = document["series"]
    assert document["spoken"].startswith("Left gyro, ")
    assert series["verdict"]["state"] == "drifting"
    assert series["verdict"]["words"].startswith("drifting since")
    assert len(series["runs"]) == 36
    assert series["runs"][-1]["sum_high"] == 9.0
    assert series["mann_kendall"]["count"] == 36


def test_the_json_of_too_few_runs_has_no_charts() -> None:
    """None stands where nothing can be said."""
    (series,) = json.loads(json.dumps(trend_dict(one(gyro(1)))))["series"]
    assert (series["individuals"], series["mann_kendall"], series["slope_per_month"]) == (None, None, None)
    assert series["runs"][0]["score"] is None
