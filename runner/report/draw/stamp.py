"""PURE but for this computer's time zone: a time as a report shows it, in UTC and beside it locally."""

from datetime import UTC, datetime, timedelta, tzinfo


def utc_stamp(at: float) -> str:
    """`2026-12-03 06:40:12 UTC`."""
    return f"{_rounded(at):%Y-%m-%d %H:%M:%S} UTC"


def iso_stamp(at: float) -> str:
    """`2026-12-03T06:40:12.345Z` (RFC 3339), to the millisecond."""
    moment = datetime.fromtimestamp(round(at, 3), UTC) + timedelta(microseconds=1)
    return f"{moment:%Y-%m-%dT%H:%M:%S}.{moment.microsecond // 1000:03d}Z"


def both_stamps(at: float, zone: tzinfo | None) -> str:
    """`2026-12-03 06:40:12 UTC, 07:40:12 local (UTC+01:00)`; a zone of None is that of this computer.

    The local day is told where it is another one; where the local time is UTC there is nothing to add.
    """
    utc, local = _rounded(at), _rounded(at).astimezone(zone)
    if not local.utcoffset():
        return utc_stamp(at)
    day = "" if local.date() == utc.date() else f"{local:%Y-%m-%d} "
    return f"{utc_stamp(at)}, {day}{local:%H:%M:%S} local (UTC{local.isoformat()[19:]})"


def duration_words(seconds: float) -> str:
    """`3 min 49 s`."""
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes} min {rest:02d} s" if minutes else f"{rest} s"


def _rounded(at: float) -> datetime:
    return datetime.fromtimestamp(round(at), UTC)
