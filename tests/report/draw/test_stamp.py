"""Times as a report shows them, against instants whose UTC is known."""

from datetime import UTC, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest

from runner.report.draw.stamp import both_stamps, duration_words, iso_stamp, utc_stamp

BILLION = 1_000_000_000.0
"""2001-09-09T01:46:40Z (POSIX.1, seconds since the epoch; `date -u -d @1000000000`)."""


def test_utc_is_to_the_second_and_rfc_3339_to_the_millisecond() -> None:
    """Rounded, never cut."""
    assert utc_stamp(BILLION) == "2001-09-09 01:46:40 UTC"
    assert utc_stamp(BILLION + 0.6) == "2001-09-09 01:46:41 UTC"
    assert iso_stamp(BILLION + 0.0004) == "2001-09-09T01:46:40.000Z"
    assert iso_stamp(BILLION + 0.345) == "2001-09-09T01:46:40.345Z"


@pytest.mark.parametrize(
    ("zone", "words"),
    [
        (UTC, "2001-09-09 01:46:40 UTC"),
        (ZoneInfo("Europe/Vienna"), "2001-09-09 01:46:40 UTC, 03:46:40 local (UTC+02:00)"),
        (timezone(timedelta(hours=-5)), "2001-09-09 01:46:40 UTC, 2001-09-08 20:46:40 local (UTC-05:00)"),
    ],
)
def test_local_time_stands_beside_utc(zone: timezone, words: str) -> None:
    """With its day where that is another one (IANA time zones: Vienna keeps summer time in September)."""
    assert both_stamps(BILLION, zone) == words


@pytest.mark.parametrize(("seconds", "words"), [(59.4, "59 s"), (59.6, "1 min 00 s"), (229, "3 min 49 s")])
def test_a_duration_is_minutes_and_seconds(seconds: float, words: str) -> None:
    """Rounded before it is split."""
    assert duration_words(seconds) == words
