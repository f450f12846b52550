from decimal import Decimal
from pathlib import Path

import pytest

from runner.checklist.format.check_load import parse_check
from runner.checklist.kind.reading import Reading
from runner.language.catalogue import Outcome

GOOD = (Path(__file__).parents[1] / "good.yaml").read_text(encoding="utf-8")


def volts(stop: str) -> Reading:
    """The reading of the good check (pass 24 to 26, caution 22 to 29), with stop edges."""
    edited = GOOD.replace(
        "plausible: 16.0 to 32.0",
        f"plausible: 16.0 to 32.0\n          stop: {stop}\n        remedy: Leave the power off.",
    )
    body = parse_check(edited, Path("x.yaml")).item("volts").body
    assert isinstance(body, Reading)
    return body


def test_a_reading_may_stop_on_either_side() -> None:
    """One edge as plain words, two as a list."""
    assert (volts("below 20.0").stop_below, volts("below 20.0").stop_above) == (Decimal("20.0"), None)
    both = volts("[above 30.0, below 20.0]")
    assert (both.stop_below, both.stop_above) == (Decimal("20.0"), Decimal("30.0"))


@pytest.mark.parametrize(
    ("number", "outcome"),
    [
        ("19.9", Outcome.STOP),
        ("20.0", Outcome.SQUAWK),
        ("22.0", Outcome.CAUTION),
        ("25.0", Outcome.PASS),
        ("30.0", Outcome.SQUAWK),
        ("30.1", Outcome.STOP),
    ],
)
def test_the_edge_itself_is_not_yet_danger(number: str, outcome: Outcome) -> None:
    """`below` and `above` mean beyond the written number."""
    assert volts("[below 20.0, above 30.0]").outcome(Decimal(number)) is outcome


def test_an_edge_may_meet_the_band_that_is_no_danger() -> None:
    """There need be no squawk in between."""
    assert volts("below 22.0").outcome(Decimal("21.9")) is Outcome.STOP
