from pathlib import Path

import pytest

from runner.checklist.format.check_load import parse_check
from runner.checklist.kind.spin_up import SpinUp
from runner.errors import FileError

GENERAL = """\
check: A short check
cautions: On the ground only.
sections:
  - section: Round
    items:
      - item: power
        action: power is on
{claim}
      - {{item: done, call: check complete}}
"""
CLAIMS = {
    "selects": ("        selects: reserve", "8:9", 'remove "selects"'),
    "restores": ("        restores: true", "8:9", 'remove "restores"'),
    "proves": ("        proves: [lamps]", "8:9", 'remove "proves"'),
    "dead": (
        "      - item: heat\n        dead: {loads: heat, on: nothing, answers: {dark: pass}}",
        "9:9",
        '"state"',
    ),
    "partial": (
        "      - item: dial\n        partial: {alive: card, dead: window, answers: {card: pass}}",
        "9:9",
        '"state"',
    ),
}


@pytest.mark.parametrize(("claim", "place", "cure"), CLAIMS.values(), ids=CLAIMS.keys())
def test_a_check_of_no_airplane_claims_nothing_about_one(claim: str, place: str, cure: str) -> None:
    """The claim is refused where it stands, with what to write instead."""
    with pytest.raises(FileError, match="this check names no airplane") as caught:
        parse_check(GENERAL.format(claim=claim), Path("x.yaml"))
    assert str(caught.value).startswith(f"x.yaml:{place}: ")
    assert 'add "airplane: ..." at the top' in caught.value.message
    assert cure in caught.value.message


def test_a_gyro_may_be_timed_without_an_airplane() -> None:
    """Its name is free: it is what its times are kept under."""
    clock = (
        "      - item: horizon\n        spin_up: {gyro: my horizon, starts: power, advise: 60 s, limit: 90 s}"
    )
    body = parse_check(GENERAL.format(claim=clock), Path("x.yaml")).item("horizon").body
    assert isinstance(body, SpinUp)
    assert body.gyro == "my horizon"


def test_a_check_without_an_airplane_loads() -> None:
    """Its airplane is the empty name."""
    check = parse_check(GENERAL.format(claim="        critical: true"), Path("x.yaml"))
    assert (check.airplane, check.airplane_place) == ("", None)
