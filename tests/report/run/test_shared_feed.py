"""What a squawk shares its breaker and bus with, in the invented Merlow."""

from dataclasses import replace

from runner.report.run.shared_feed import shared_feeds
from runner.session.parts import load_parts


def _lines(item: str) -> list[str]:
    parts = load_parts("merlow-reserve")
    return [str(feed) for feed in shared_feeds(parts.check, parts.airplane, item)]


def test_a_load_names_the_others_on_its_bus() -> None:
    """The flood lamps share the reserve bus with the second radio, and no breaker with anything."""
    lines = _lines("flood lamps")
    assert len(lines) == 1
    assert lines[0].startswith("reserve bus also feeds ")
    assert "communication 2" in lines[0]
    assert "communication 1" not in lines[0]


def test_a_shared_breaker_is_named_first() -> None:
    """The second radio and its display hang on one breaker."""
    lines = _lines("new second radio")
    assert lines[0] == "breaker comm 2 also feeds communication 2 display"


def test_a_gyro_stands_for_its_load() -> None:
    """A spin-up item names no load itself; its gyro does."""
    lines = _lines("left attitude")
    assert any("flood lamps" in line for line in lines)


def test_an_item_without_loads_shares_nothing() -> None:
    """The completion call hangs on no bus."""
    assert _lines("complete") == []


def test_each_breaker_and_bus_is_named_once() -> None:
    """The second radio's item shows two loads of one breaker and one bus."""
    lines = _lines("new second radio")
    assert [line.partition(" also")[0] for line in lines] == ["breaker comm 2", "reserve bus"]


def test_what_the_airplane_no_longer_has_shares_nothing() -> None:
    """A check may be older than the airplane's file."""
    parts = load_parts("merlow-reserve")
    assert parts.airplane is not None
    bare = replace(parts.airplane, loads={}, instruments={}, gyros={})
    assert shared_feeds(parts.check, bare, "flood lamps") == ()
    assert shared_feeds(parts.check, bare, "left attitude") == ()
