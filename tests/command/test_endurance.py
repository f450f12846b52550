"""`eyesout endurance`."""

import io
import json
from pathlib import Path

import pytest

from runner.cli import Parser
from runner.command import endurance
from runner.errors import UsageError

DAY = ("--on", "2026-11-25")


def asked(*words: str) -> str:
    """What the command prints for these arguments."""
    parser = Parser(prog="eyesout endurance")
    endurance.add_arguments(parser)
    out = io.StringIO()
    assert endurance.run(parser.parse_args(words), out) == 0
    return out.getvalue()


def test_the_same_question_gets_the_same_answer() -> None:
    """Seeded: nothing in it changes from one call to the next."""
    first = asked("tarn-qx83", *DAY, "--json")
    assert first == asked("tarn-qx83", *DAY, "--json")
    assert json.loads(first)["on"] == "2026-11-25"


def test_a_colder_and_emptier_battery_lasts_shorter() -> None:
    """Each option reaches the reckoning."""
    plain = json.loads(asked("tarn-qx83", *DAY, "--json"))["total_minutes"]
    for words in (("--charge", "60"), ("--celsius", "-10"), ("--recognise", "8"), ("--approach", "20")):
        assert json.loads(asked("tarn-qx83", *DAY, *words, "--json"))["total_minutes"] < plain


def test_volts_of_a_rested_lead_acid_battery_give_the_low_end_of_a_band() -> None:
    """The band is said, and its low end is what is reckoned with."""
    words = asked("tarn-qx83", *DAY, "--volts", "24.9", "--rested", "8")
    assert "24.9 V at rest means 72 to 79 % of charge; the low end is used." in words
    assert "charged 72 %" in words


def test_a_target_of_one_s_own_replaces_the_two() -> None:
    """`--reach 45` asks for 45 minutes only."""
    plain = json.loads(asked("tarn-qx83", *DAY, "--reach", "45", "--json"))
    assert [each["target_minutes"] for each in plain["shedding"]] == [45]


def test_the_chart_is_written_where_asked(tmp_path: Path) -> None:
    """Beside the text, which ends with the caution."""
    words = asked("merlow-ml2", *DAY, "--chart", str(tmp_path / "chart.svg"))
    assert (tmp_path / "chart.svg").is_file()
    assert "flight manual governs, always" in words
    assert "pilot in command decide" in words


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (
            ("merlow-ml2", "--volts", "25", "--rested", "8"),
            "does not show its charge; test its capacity; give --charge",
        ),
        (
            ("tarn-qx83", "--volts", "25", "--rested", "1"),
            "rested 1 h; voltage shows charge only after 3 h or more",
        ),
        (("tarn-qx83", "--volts", "25"), "--volts says nothing without --rested HOURS"),
        (("tarn-qx83", "--volts", "25", "--charge", "80"), "both give the charge"),
        (("tarn-qx83", "--charge", "125"), "--charge: 125 is out of range; write 0 to 100"),
        (("tarn-qx83", "--recognise", "-1"), "--recognise: -1 is out of range"),
        (("tarn-qx83", "--celsius", "500"), "--celsius: 500 is out of range"),
        (("tarn-qx83", "--reach", "0"), "--reach: 0 is out of range"),
        (("tarn-qx83", "--chart", "chart.gif"), "neither .svg nor .png"),
    ],
)
def test_what_makes_no_sense_is_refused_in_one_line(words: tuple[str, ...], message: str) -> None:
    """With what to write instead."""
    with pytest.raises(UsageError) as caught:
        asked(*words)
    assert message in str(caught.value)


def test_a_date_in_another_order_is_refused_by_the_parser() -> None:
    """With the cure, in one line as well."""
    with pytest.raises(UsageError, match="write it as 2026-03-31"):
        asked("tarn-qx83", "--on", "25.11.2026")
