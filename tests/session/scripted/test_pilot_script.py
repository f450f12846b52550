"""Pilot files: what they hold, and every mistake with its place and its cure."""

from pathlib import Path

import pytest

from runner.errors import FileError, MistakesError
from runner.place import data_folder
from runner.session.scripted.pilot_script import REACTION_SECONDS, PilotScript, load_script, refuse_unknown
from runner.voice.background import Background
from tests.checklist.shipped import shipped_check

NOISES = ("white", "engine")


def _load(tmp_path: Path, text: str) -> PilotScript:
    path = tmp_path / "pilot.yaml"
    path.write_text(text, encoding="utf-8")
    return load_script(path, noises=NOISES)


def test_a_script_keeps_its_lines_in_order(tmp_path: Path) -> None:
    """Lines, delays, noise and start are read as they stand."""
    script = _load(
        tmp_path,
        "check: some-check\n"
        "noise: {kind: engine, snr: 10}\n"
        "start: 2026-12-03T06:40:00Z\n"
        "lines:\n"
        "  - {on: volts, say: two four}\n"
        "  - {clock: gyro, say: pulled, after: 31.5}\n",
    )
    volts, gyro = script.lines
    assert (volts.on, volts.say, volts.after_seconds, volts.is_clock) == (
        "volts",
        "two four",
        REACTION_SECONDS,
        False,
    )
    assert (gyro.on, gyro.after_seconds, gyro.is_clock) == ("gyro", 31.5, True)
    assert script.noise is not None
    assert (script.noise.kind, script.noise.snr_db) == ("engine", 10.0)
    assert script.start_at == 1796280000.0


@pytest.mark.parametrize(
    ("text", "place", "cure"),
    [
        ("lines: []\ncheck: x\n", ":1:8", "write at least one entry"),
        ("check: x\n", ":1:1", '"lines" is missing'),
        ("check: x\nlines:\n  - {say: yes}\n", ":3:5", 'either "on"'),
        ("check: x\nlines:\n  - {on: a, clock: b, say: yes}\n", ":3:5", 'either "on"'),
        ("check: x\nlines:\n  - {on: a}\n", ":3:5", 'either "say"'),
        ("check: x\nlines:\n  - {clock: a, say: yes}\n", ":3:5", '"after"'),
        ("check: x\nlines:\n  - {on: a, say: b, after: soon}\n", ":3:28", "not a number"),
        ("check: x\nlines:\n  - {on: a, wav: gone.wav}\n", ":3:18", "there is no recording"),
        ("check: x\nnoise: {kind: engin, snr: 3}\nlines: [{on: a, say: b}]\n", ":2:15", '"engine"'),
        ("check: x\nstart: dawn\nlines: [{on: a, say: b}]\n", ":2:8", "not a time"),
        ("check: x\nstart: 2026-12-03T06:40:00\nlines: [{on: a, say: b}]\n", ":2:8", "no time zone"),
        ("check: x\nline: [{on: a, say: b}]\n", ":2:1", '"lines"'),
    ],
)
def test_a_mistake_gets_its_place_and_its_cure(tmp_path: Path, text: str, place: str, cure: str) -> None:
    """FileError says where and what to write instead."""
    with pytest.raises(FileError) as caught:
        _load(tmp_path, text)
    assert place in str(caught.value)
    assert cure in str(caught.value)


def test_items_that_the_check_does_not_have_are_told_at_load(tmp_path: Path) -> None:
    """All of them, each at its line, with the nearest that there is; points of the run are none of them."""
    script = _load(
        tmp_path,
        "check: tarn-reserve\n"
        "lines:\n"
        "  - {on: cautions, say: continue}\n"
        "  - {on: volts aftr, say: two four}\n"
        "  - {on: hold, say: continue}\n"
        "  - {clock: people, say: pulled, after: 3}\n",
    )
    with pytest.raises(MistakesError) as caught:
        refuse_unknown(script, shipped_check("tarn-reserve"))
    first, second = str(caught.value).splitlines()
    assert first.endswith(
        'pilot.yaml:4:10: the check tarn-reserve has no item "volts aftr"; did you mean "volts after"?'
    )
    assert 'pilot.yaml:6:13: the check tarn-reserve has no spin-up item "people"; known: ' in second


@pytest.mark.parametrize(
    ("pilot", "check"), [("merlow-pilot", "merlow-reserve"), ("walk-round-pilot", "walk-round")]
)
def test_shipped_pilots_name_what_their_checks_have(pilot: str, check: str) -> None:
    """Nothing is refused."""
    script = load_script(data_folder("demo") / f"{pilot}.yaml", noises=tuple(Background))
    assert script.check == check
    refuse_unknown(script, shipped_check(check))


def test_a_line_may_be_given_by_key(tmp_path: Path) -> None:
    """Its words without a sound."""
    (line,) = _load(tmp_path, "check: x\nlines:\n  - {on: volts, key: two four}\n").lines
    assert (line.key, line.say, line.wav) == ("two four", "", None)
