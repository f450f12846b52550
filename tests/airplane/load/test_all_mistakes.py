"""All mistakes of an airplane file are told at once, each at its place, without their consequences."""

from pathlib import Path

import pytest

from runner import cli
from runner.airplane.load.airplane_load import parse_airplane
from runner.errors import FileError, MistakesError
from runner.place import data_folder

SHIPPED = (data_folder("checklists") / "airplanes" / "merlow-ml2.yaml").read_text(encoding="utf-8")


def _mistakes(text: str) -> list[tuple[int, str]]:
    with pytest.raises(FileError) as caught:
        parse_airplane(text, Path("x.yaml"))
    error = caught.value
    every = error.errors if isinstance(error, MistakesError) else (error,)
    return [(each.place.line, each.message) for each in every]


def _spoilt(*edits: tuple[str, str]) -> tuple[str, list[int]]:
    """The shipped file after edits, and the lines that were edited."""
    text = SHIPPED
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    before, after = SHIPPED.split("\n"), text.split("\n")
    return text, [
        number for number, (one, other) in enumerate(zip(before, after, strict=True), 1) if one != other
    ]


def test_a_kind_that_is_none_is_told_without_what_another_kind_would_need() -> None:
    """One line, with the nearest kind."""
    text, lines = _spoilt(("left generator: {kind: generator", "left generator: {kind: genarator"))
    ((line, message),) = _mistakes(text)
    assert [line] == lines
    assert 'did you mean "generator"?' in message


def test_a_figure_that_must_be_above_nothing_is_told_so_once() -> None:
    """Below zero as at zero."""
    for figure in ("0", "-3"):
        text, lines = _spoilt(("bus: centre bus, amps: 600", f"bus: centre bus, amps: {figure}"))
        ((line, message),) = _mistakes(text)
        assert [line] == lines
        assert message == f'source "ground power": {figure} is too small; write a number above 0'


def test_each_mistakes_is_told_once_in_the_order_of_the_file() -> None:
    """From the title to the last section; what is right beside them is not complained of."""
    text, lines = _spoilt(
        ("registration: QQ-ML2", "registration: ''"),
        ('  parked: "off"', "  parked: of"),
        ("  flood lamps: {load: flood", "  flood lamps: {laod: flood"),
        ("recognise_minutes: ", "recognise_minutes: soon "),
    )
    told = _mistakes(text)
    assert sorted({line for line, _ in told}) == lines
    assert len(told) == len(lines) + 1, "an unknown key leaves the right one missing"


def test_one_mistake_is_one_error() -> None:
    """Of the plain kind."""
    text, lines = _spoilt(('  parked: "off"', "  parked: of"))
    ((line, message),) = _mistakes(text)
    assert [line] == lines
    assert message == 'selector: "of" is not known here; did you mean "off"?'


def test_every_missing_section_is_told() -> None:
    """A file with its title alone."""
    told = _mistakes("title: Lark\n")
    assert [message.split('"')[1] for _, message in told] == [
        *("registration", "note", "selector", "sources", "buses", "links", "breakers", "loads"),
        *("instruments", "voltmeter", "battery_warn_share", "endurance"),
    ]


def test_a_band_upside_down_hides_nothing_after_it() -> None:
    """A mistake of a whole list is passed over like one of a word."""
    text, lines = _spoilt(
        ("at_rest: {pass: [25.0, 26.5]", "at_rest: {pass: [26.5, 25.0]"),
        ("recognise_minutes: ", "recognise_minutes: soon "),
    )
    assert [line for line, _ in _mistakes(text)] == lines


def test_each_mistake_is_a_line_of_its_own_on_the_terminal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """With file, line and column; the exit code is that of one."""
    text, _ = _spoilt(("registration: QQ-ML2", "registration: ''"), ('  parked: "off"', "  parked: of"))
    path = tmp_path / "mine.yaml"
    path.write_text(text, encoding="utf-8")
    assert cli.main(["bus", str(path)]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == 2
    assert all(line.startswith(f"eyesout: {path}:") for line in lines)
