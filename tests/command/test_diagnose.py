"""`eyesout diagnose` and `eyesout audit`."""

import json
from pathlib import Path

import pytest

from runner.command import audit, diagnose
from runner.command.pilot import PilotResult, PilotRun, run_pilot
from runner.errors import UsageError
from runner.place import data_folder
from runner.session.engine import BUILTIN
from tests.command.records import asked

SAID = {
    "say: needle moves": "say: flag stays",
    "say: card only": "say: card frozen",
    "say: two three decimal two": "say: two five decimal one",
}
"""A dead receiver, as its own item and the needle that it moves show it, and a battery that is well."""


@pytest.fixture(scope="module")
def flown(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's check flown once by a pilot who finds the navigation receiver dead."""
    folder = tmp_path_factory.mktemp("diagnose")
    words = (data_folder("demo") / "merlow-pilot.yaml").read_text("utf-8")
    for good, bad in SAID.items():
        assert good in words
        words = words.replace(good, bad)
    script = folder / "pilot.yaml"
    script.write_text(words, encoding="utf-8")
    result: PilotResult = run_pilot(
        PilotRun("", script, folder / "logbook", folder / "exchange.wav", BUILTIN, "test"), lambda _: None
    )
    assert result.scripted.summary.squawks
    return folder / "logbook"


def test_a_dead_receiver_points_at_itself_and_its_breaker(flown: Path) -> None:
    """Both explain it; what is likelier is first, and the priors are told to be ours."""
    words = asked(diagnose, "last", "--logbook", str(flown))
    assert "unusual" in words
    assert "nav 1: breaker out" in words
    assert "navigation 1: dead" in words
    assert "priors of ours" in words
    assert "pilot in command decide" in words


def test_the_json_names_suspects_and_the_next_look(flown: Path) -> None:
    """Probabilities add up."""
    plain = json.loads(asked(diagnose, "last", "--logbook", str(flown), "--json"))
    assert sum(each["probability"] for each in plain["suspects"]) == pytest.approx(1, abs=0.01)
    assert {each["name"] for each in plain["suspects"][:3]} >= {"nav 1", "navigation 1"}


def test_audit_tells_what_goes_unnoticed_and_what_would_show_it() -> None:
    """For a check, or for the one that derive would write."""
    words = asked(audit, "pellow-jv62", "pellow-reserve")
    assert "standby battery: weak cell" in words
    assert "THE FEWEST LOOKS" in words
    assert "all generators lost" in words
    plain = json.loads(asked(audit, "tarn-qx83", "--json"))
    assert 0.5 < plain["share_noticed"] <= 1
    assert plain["extra_is_least"]


def test_audit_refuses_a_check_of_another_airplane() -> None:
    """Its own is asked for."""
    with pytest.raises(UsageError, match='is for "merlow-ml2", not for "tarn-qx83"'):
        asked(audit, "tarn-qx83", "merlow-reserve")
