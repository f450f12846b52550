"""Whatever a command lists stays within the terminal: as if typed in one of 60 columns."""

import io
import sys
from pathlib import Path

import pytest

from runner import cli
from tests.logbook.sample import write_run

COLUMNS = 60


class Terminal(io.StringIO):
    """Text that says it goes to a terminal."""

    def isatty(self) -> bool:
        """It does."""
        return True


def typed(monkeypatch: pytest.MonkeyPatch, *words: str) -> str:
    """What these words print on the terminal."""
    shown = Terminal()
    with monkeypatch.context() as patched:
        patched.setenv("COLUMNS", str(COLUMNS))
        patched.setattr(sys, "stdout", shown)
        cli.main(words)
    return shown.getvalue()


@pytest.mark.parametrize(
    "words",
    [
        ("bus", "merlow-ml2"),
        ("endurance", "merlow-ml2"),
        ("lint", "walk-round"),
        ("history",),
        ("show", "last"),
        ("squawk", "list", "--all"),
        ("trend", "lark"),
        ("maintenance", "lark"),
        ("verify",),
        ("models", "list"),
    ],
    ids=lambda words: words[0],
)
def test_every_list_keeps_to_the_terminal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    """No line is wider, and none of it is lost to a cut."""
    write_run(tmp_path)
    kept = ("history", "show", "squawk", "trend", "maintenance", "verify")
    place = ("--logbook", str(tmp_path)) if words[0] in kept else ()
    shown = typed(monkeypatch, *words, *place)
    assert shown.strip()
    assert [line for line in shown.splitlines() if len(line) > COLUMNS and " " in line.strip()] == []
    assert "..." not in shown


def test_what_goes_to_a_program_is_never_wrapped(monkeypatch: pytest.MonkeyPatch) -> None:
    """JSON, and a check that is to be edited: on a terminal as in a pipe."""
    for words in (("lint", "merlow-reserve", "--json"), ("derive", "tarn-qx83")):
        shown = typed(monkeypatch, *words)
        with monkeypatch.context() as patched:
            pipe = io.StringIO()
            patched.setattr(sys, "stdout", pipe)
            cli.main(words)
        assert shown == pipe.getvalue()
        assert max(map(len, shown.splitlines())) > COLUMNS


def test_a_pipe_has_no_edge(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Scripts that read lines find them whole."""
    monkeypatch.setenv("COLUMNS", str(COLUMNS))
    cli.main(["bus", "merlow-ml2"])
    assert max(map(len, capsys.readouterr().out.splitlines())) > COLUMNS
