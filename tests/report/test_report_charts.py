"""The drawings inside a page: where marks lie, and which are left out."""

import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest

from runner.language.catalogue import Outcome
from runner.report.draw.scale import Scale, round_numbers, scale_over
from runner.report.run.run_item import SpinUpTime
from runner.report.run.spin_up_chart import LABEL, RIGHT, spin_up_chart, spin_up_words
from runner.report.trend.strip_chart import BOTTOM, MOST, TOP, strip_chart
from runner.trend.judged_series import trend_of
from tests.report.trend_sample import drifting
from tests.trend.sample import gyro


def _marks(svg: str, style: str) -> list[dict[str, str]]:
    return [each.attrib for each in ET.fromstring(svg).iter() if each.get("class") == style]  # noqa: S314 - our own words


def test_a_scale_maps_its_ends_to_its_places() -> None:
    """And the middle to the middle; equal values still have a scale."""
    scale = Scale(10, 20, 100, 0)
    assert (scale(10), scale(15), scale(20)) == (100, 50, 0)
    flat = scale_over([7, 7], 0, 10)
    assert flat(7) == pytest.approx(5)
    assert scale_over([0.0], 0, 10)(0) == pytest.approx(5)


@pytest.mark.parametrize(
    ("low", "high", "numbers"),
    [(0, 100, [0, 50, 100]), (23.4, 25.1, [23.5, 24, 24.5, 25]), (-1, 1, [-1, -0.5, 0, 0.5, 1])],
)
def test_an_axis_is_labelled_with_round_numbers(low: float, high: float, numbers: list[float]) -> None:
    """Multiples of 1, 2 or 5 times a power of ten (common practice, no source)."""
    assert round_numbers(low, high) == numbers


def test_a_drifting_gyro_has_diamonds_from_where_it_is_off() -> None:
    """The runs before are circles; each run is one mark, the ring is on the one that is asked for."""
    trend = trend_of(drifting())
    svg = strip_chart(trend, trend.points[-1].run)
    off = sum(point.at >= (trend.verdict.since or 0) for point in trend.points)
    assert (len(_marks(svg, "off")), len(_marks(svg, "run"))) == (off, len(trend.points) - off)
    (ring,) = _marks(svg, "ring")
    assert float(ring["cy"]) == pytest.approx(TOP, abs=12)
    assert "drifting since" in svg


def test_every_mark_lies_inside_the_drawing() -> None:
    """Runs, limit and range."""
    svg = strip_chart(trend_of(gyro(40, limit=43.0)))
    assert all(TOP <= float(mark["cy"]) <= BOTTOM for mark in _marks(svg, "run"))
    assert "limit 43" in svg
    assert all(float(mark["y"]) >= 0 for mark in _marks(svg, "range"))


def test_a_far_limit_is_left_to_the_words() -> None:
    """It would press all runs flat."""
    assert "limit 430" not in strip_chart(trend_of(gyro(40, limit=430.0)))


def test_too_few_runs_are_not_drawn_and_too_many_are_cut() -> None:
    """Older runs count for the verdict only."""
    assert strip_chart(trend_of(gyro(3))) == ""
    assert len(_marks(strip_chart(trend_of(gyro(MOST + 30))), "run")) <= MOST


TIME = SpinUpTime("left", "left gyro", 44.0, 45.0, 90.0, is_pulled=True, outcome=Outcome.PASS)


def test_spin_ups_share_one_axis_with_advise_and_limit() -> None:
    """The longest time or limit ends at the right; a bar half as long ends half-way."""
    svg = spin_up_chart((replace(TIME, seconds=60.0), replace(TIME, limit_seconds=120.0)))
    first, _ = _marks(svg, "bar")
    assert float(first["width"]) == pytest.approx((RIGHT - LABEL) / 2, abs=0.1)
    assert len(_marks(svg, "limit")) == len(_marks(svg, "advise")) == 2
    assert len(re.findall(">advise 45<", svg)) == 2


def test_a_stuck_flag_is_told_in_words_and_drawn_hollow() -> None:
    """Its seconds are when it was given up."""
    stuck = replace(TIME, seconds=121.0, is_pulled=False, outcome=Outcome.SQUAWK)
    assert spin_up_words(stuck) == "flag stuck, given up after 121.0 s, squawk"
    svg = spin_up_chart((stuck,))
    assert len(_marks(svg, "bar stuck")) == 1
    assert ">121.0 s, flag stuck<" in svg
    assert spin_up_chart(()) == ""


def test_words_on_a_drawing_are_escaped() -> None:
    """A gyro's name comes out of a file."""
    svg = spin_up_chart((replace(TIME, gyro='<a & "b">'),))
    assert "&lt;a &amp;" in svg
    assert ET.fromstring(svg) is not None  # noqa: S314 - our own words
