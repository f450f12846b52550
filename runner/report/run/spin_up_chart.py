"""The spin-ups of a run as bars on one axis of seconds, each with its advise time and its limit."""

from collections.abc import Iterator, Sequence
from typing import Final

from runner.language.catalogue import FlagEnd
from runner.report.draw.page_svg import box, picture, segment, words
from runner.report.draw.scale import Scale, round_numbers
from runner.report.run.run_item import SpinUpTime

WIDTH: Final = 620.0
LABEL: Final = 150.0
"""Where the bars begin."""
RIGHT: Final = 500.0
"""Where the longest time ends; words stand beyond it."""
ROW: Final = 34.0


def spin_up_chart(times: Sequence[SpinUpTime]) -> str:
    """The drawing as inline SVG; empty when no clock has ended."""
    if not times:
        return ""
    longest = max(max(time.seconds, time.limit_seconds) for time in times)
    across = Scale(0.0, longest, LABEL, RIGHT)
    height = ROW * len(times) + 18
    marks = [mark for row, time in enumerate(times) for mark in _row(time, row * ROW, across)]
    marks += _axis(across, ROW * len(times))
    told = "; ".join(f"{time.gyro}: {spin_up_words(time)}" for time in times)
    return picture((WIDTH, height), "Chart of the spin-up times", told, marks)


def spin_up_words(time: SpinUpTime) -> str:
    """`28.2 s, pass`, or what became of a flag that did not pull."""
    stuck = "" if time.is_pulled else f"{FlagEnd.STUCK}, given up after "
    return f"{stuck}{time.seconds:.1f} s, {time.outcome.value}"


def _row(time: SpinUpTime, top: float, across: Scale) -> Iterator[str]:
    middle = top + 17
    yield words(time.gyro, LABEL - 8, middle + 4, anchor="end")
    yield box((LABEL, middle - 6), across(time.limit_seconds) - LABEL, 12, "allowed")
    yield box((LABEL, middle - 6), across(time.seconds) - LABEL, 12, "bar" if time.is_pulled else "bar stuck")
    ends = ((time.advise_seconds, "advise", "end"), (time.limit_seconds, "limit", "start"))
    for seconds, name, anchor in ends:  # away from each other: they may lie close together
        x = across(seconds)
        yield segment((x, middle - 9), (x, middle + 9), name)
        yield words(f"{name} {seconds:g}", x, middle - 11, f"{name}-words", anchor=anchor)
    answer = FlagEnd.STUCK if not time.is_pulled else time.outcome.value
    yield words(f"{time.seconds:.1f} s, {answer}", RIGHT + 10, middle + 4, "value")


def _axis(across: Scale, bottom: float) -> Iterator[str]:
    for seconds in round_numbers(0, across.high, 6):
        yield segment((across(seconds), bottom), (across(seconds), bottom + 3), "tick")
        yield words(f"{seconds:g}", across(seconds), bottom + 14, anchor="middle")
    yield words("seconds", across.end + 24, bottom + 14)
