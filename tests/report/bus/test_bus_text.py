"""`eyesout bus` in plain text."""

from dataclasses import replace
from pathlib import Path

from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.model.rule import ROWS
from runner.airplane.model.situation import everything_works, on_battery
from runner.report.bus.bus_report import bus_report
from runner.report.bus.bus_text import bus_text, path_text

AIRPLANES = Path(__file__).parents[3] / "checklists" / "airplanes"
TARN = load_airplane(AIRPLANES / "tarn-qx83.yaml")
RESERVE = bus_report(TARN, on_battery(TARN, "essential"))
LINES = bus_text(RESERVE).splitlines()


def line_of(start: str) -> str:
    """The first line that starts with the words."""
    return next(line for line in LINES if line.startswith(start))


def test_each_load_stands_beside_its_normal_life() -> None:
    """Alive then, DEAD now, under the first break or the bus that feeds it."""
    dead, live = " ".join(line_of("  pitot heat").split()), " ".join(line_of("  turn gyro").split())
    assert dead == "pitot heat 9.00 alive DEAD"
    assert live == "turn gyro 0.50 alive alive"
    assert _reason_over("  pitot heat") == 'battery contactor is open in "essential"'
    assert _reason_over("  turn gyro") == "from essential bus"
    assert all(any(line.startswith(f"  {name}") for line in LINES) for name in TARN.loads)


def _reason_over(start: str) -> str:
    """The last line before it that is not indented."""
    return [line for line in LINES[: LINES.index(line_of(start))] if line and not line.startswith(" ")][-1]


def test_a_reason_is_said_once() -> None:
    """Not with each of the thirty loads behind it."""
    reasons = [line for line in LINES if " is open in " in line]
    assert reasons
    assert len(set(reasons)) == len(reasons)


def test_every_row_of_the_rule_has_its_paragraph_and_both_seats() -> None:
    """Kept, GONE, or never had."""
    rows = [line for line in LINES if line.startswith("91.205")]
    assert len(rows) == len(ROWS)
    assert line_of("91.205(d)(8)").split()[-2:] == ["GONE", "kept"]
    assert line_of("91.205(d)(3)").split()[-3:] == ["never", "had", "kept"]
    assert line_of("the right seat keeps the fuller set")


def test_what_is_gone_is_said_in_words() -> None:
    """Ice protection by name; nothing where nothing is."""
    ice = line_of("ice protection").removeprefix("ice protection").strip().split(", ")
    assert ice == ["pitot heat", "stall vane heat", "propeller heat", "windshield heat", "boot valves"]
    assert LINES[-1].split() == ["warning", "nothing"]


def test_sources_and_breakers_that_are_out_are_named_at_the_top() -> None:
    """The situation is repeated, so that a printed page explains itself."""
    assert "lost: starter generator, standby alternator, ground power" in LINES
    pulled = replace(everything_works(TARN), pulled=frozenset({"comm 1"}))
    words = bus_text(bus_report(TARN, pulled))
    assert "lost: ground power" in words
    assert "breakers out: comm 1" in words


def test_a_path_lists_every_break() -> None:
    """The left display has two open contactors on its way."""
    words = path_text(RESERVE, "left display").splitlines()
    assert words[0] == "left display: DEAD"
    assert words[1].strip().startswith("battery > battery bus > battery contactor")
    assert [line.strip() for line in words[2:]] == [
        'break: battery contactor is open in "essential"',
        'break: radio contactor is open in "essential"',
    ]
