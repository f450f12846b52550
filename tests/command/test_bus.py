"""`eyesout bus`."""

import argparse
import io
import json
from pathlib import Path

import pytest

from runner.command import bus
from runner.errors import UsageError


def asked(*words: str) -> str:
    """What the command prints for these arguments."""
    parser = argparse.ArgumentParser()
    bus.add_arguments(parser)
    out = io.StringIO()
    assert bus.run(parser.parse_args(words), out) == 0
    return out.getvalue()


def test_by_default_it_shows_the_reserve_on_the_battery_alone() -> None:
    """The situation of the check, with the caution under it."""
    words = asked("merlow-ml2")
    assert 'feed selector at "reserve", beside "flight"' in words
    assert "lost: left generator, right generator, ground power" in words
    assert "pilot in command decide" in words


def test_lost_sources_and_pulled_breakers_change_the_answer() -> None:
    """With one generator lost in normal the other carries all; a pulled breaker kills its radio."""
    situation = ("--selector", "flight", "--lost", "left generator", "--pulled", "comm 2")
    plain = json.loads(asked("merlow-ml2", *situation, "--json"))
    assert plain["sources_amps"]["left generator"] == 0
    assert plain["sources_amps"]["right generator"] > 100
    assert plain["loads"]["communication 2"]["breaks"] == ['breaker "comm 2" is out']
    assert plain["loads"]["weather radar"]["life"] == "alive"


def test_nothing_lost_is_the_normal_airplane() -> None:
    """`--lost nothing` keeps every source."""
    plain = json.loads(asked("tarn-qx83", "--selector", "main", "--lost", "nothing", "--json"))
    assert plain["lost"] == []
    assert {load["life"] for load in plain["loads"].values()} == {"alive"}


def test_a_welded_contactor_is_seen_on_the_reserve() -> None:
    """What an expected-dead item is there to find."""
    plain = json.loads(asked("tarn-qx83", "--stuck-closed", "battery contactor", "--json"))
    assert plain["loads"]["pitot heat"]["life"] == "alive"


def test_why_gives_the_path_and_the_neighbours() -> None:
    """For a load, or for an instrument through the loads behind it."""
    assert "same breaker: communication 2 display" in asked("merlow-ml2", "--why", "communication 2")
    assert "distance unit: DEAD" in asked("merlow-ml2", "--why", "left direction indicator digits")
    assert "no load of this airplane drives it" in asked("merlow-ml2", "--why", "left airspeed")


def test_the_diagram_is_written_where_asked(tmp_path: Path) -> None:
    """Beside the text."""
    asked("tarn-qx83", "--svg", str(tmp_path / "tarn.svg"))
    assert (tmp_path / "tarn.svg").read_text("utf-8").startswith("<svg ")


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--selector", "reserv"), 'no selector position "reserv" in this airplane; did you mean "reserve"?'),
        (("--pulled", "comm 9"), 'no breaker "comm 9"'),
        (("--lost", "left genrator"), 'did you mean "left generator"?'),
        (("--stuck-open", "battery rely"), 'did you mean "battery relay"?'),
        (("--shorted", "centre buss"), 'did you mean "centre bus"?'),
        (("--failed", "zzz"), 'no load "zzz" in this airplane; known: '),
        (("--why", "left altitude gyro"), 'did you mean "left attitude gyro"?'),
        (("--svg", "/nowhere/at/all.svg"), "cannot write /nowhere/at/all.svg: "),
    ],
)
def test_a_name_that_is_not_there_gets_the_nearest(words: tuple[str, ...], message: str) -> None:
    """One line that names what was meant."""
    with pytest.raises(UsageError) as caught:
        asked("merlow-ml2", *words)
    assert message in str(caught.value)


def test_an_airplane_that_is_not_there_gets_the_nearest() -> None:
    """As a check does."""
    with pytest.raises(UsageError, match='did you mean "tarn-qx83"'):
        asked("tarn")


def test_a_switch_can_be_moved(tmp_path: Path) -> None:
    """By name and position; a wrong one is told with what is known."""
    words = (Path(__file__).parents[2] / "checklists" / "airplanes" / "tarn-qx83.yaml").read_text("utf-8")
    words = words.replace(
        "links:\n", "switches:\n  tie: {positions: [in, out], normal: in, parked: out}\nlinks:\n", 1
    ).replace("closed_in: [essential], breaker", "closed_in: [essential], switched: {tie: in}, breaker")
    path = tmp_path / "tarn.yaml"
    path.write_text(words, encoding="utf-8")
    plain = json.loads(asked(str(path), "--switch", "tie=out", "--json"))
    assert plain["loads"]["turn gyro"]["breaks"] == ['essential contactor is open: tie stands at "out"']
    with pytest.raises(UsageError, match="write NAME=POSITION"):
        asked(str(path), "--switch", "tie")
    with pytest.raises(UsageError, match='no position of tie "away"'):
        asked(str(path), "--switch", "tie=away")
