"""`eyesout drill --instructor` on the command line: what it prints, what it refuses, and a page that dies."""

import io
import re
import socket
import sys
from pathlib import Path

import pytest

from runner.cli import main
from runner.logbook.drilled.drill_file import FILE

WORDS = ["drill", "merlow-reserve", "--keys", "--plain", "--seed", "4", "--random", "0"]


def drill(folder: Path, monkeypatch: pytest.MonkeyPatch, *more: str, lines: str = "continue\n") -> int:
    """A short drill by typed lines; the exit code."""
    monkeypatch.setattr("sys.stdin", io.StringIO(lines))
    return main([*WORDS, *more, "--logbook", str(folder)])


def test_one_line_says_where_the_page_is_and_who_reaches_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """This computer only, with a token of 128 bits that is new each time, under a code to scan."""
    addresses = []
    for _ in range(2):
        drill(tmp_path, monkeypatch, "--instructor")
        shown = capsys.readouterr().out
        line = r"instructor's page, for this computer only:\s+http://127\.0\.0\.1:\d+/([\w-]{22})/"
        addresses += re.findall(line, shown)
        assert "█▀" in shown
        assert "DRILL" in shown
    assert len(set(addresses)) == 2


def test_a_page_for_others_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """And that it is not encrypted."""
    drill(tmp_path, monkeypatch, "--instructor", "--host", "0.0.0.0")  # noqa: S104 - what is tested
    shown = " ".join(capsys.readouterr().out.split())
    assert "for everybody on its networks who has the address; it is not encrypted" in shown


@pytest.mark.parametrize("missing", ["segno", "starlette", "uvicorn"])
def test_without_the_extra_one_line_says_what_to_install(
    missing: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Before a drill is begun."""
    for name in [each for each in sys.modules if each.startswith("runner.session.instructor.page_")]:
        monkeypatch.delitem(sys.modules, name)
    for name in [each for each in sys.modules if each.partition(".")[0] == missing]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, missing, None)
    assert drill(tmp_path, monkeypatch, "--instructor") == 2
    told = capsys.readouterr().err
    assert 'needs more libraries: pip install "eyesout[instructor]"' in told
    assert told.count("\n") == 1
    assert not (tmp_path / FILE).exists()


@pytest.mark.parametrize(
    ("more", "line"),
    [
        (["--host", "127.0.0.1"], "add --instructor"),
        (["--port", "8080"], "add --instructor"),
        (["--instructor", "--port", "70000"], "--port: 70000 is out of range"),
        (
            ["--instructor", "--host", "192.0.2.1"],
            "cannot serve the instructor's page at 192.0.2.1, port any",
        ),
        (["--instructor", "--host", "a b"], "name an address of this computer"),
    ],
)
def test_a_bad_address_gets_one_line(
    more: list[str],
    line: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """It says what, and what to write instead; no drill is begun."""
    assert drill(tmp_path, monkeypatch, *more) == 2
    told = capsys.readouterr().err
    assert line in told
    assert told.count("\n") == 1
    assert not (tmp_path / FILE).exists()


def test_a_port_that_is_taken_gets_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """With the port."""
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        assert drill(tmp_path, monkeypatch, "--instructor", "--port", str(port)) == 2
    assert f"port {port}: Address already in use" in capsys.readouterr().err


def test_a_page_that_dies_is_told_to_the_student_and_the_drill_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The next answer is taken as ever, and the debrief comes."""

    def die(_server: object, **_named: object) -> None:
        raise OSError("the network card was pulled")

    monkeypatch.setattr("uvicorn.Server.run", die)
    drill(tmp_path, monkeypatch, "--instructor", lines="continue\nnobody near\n")
    shown = " ".join(capsys.readouterr().out.split())
    assert (
        "The instructor's page has stopped (OSError: the network card was pulled); the drill goes on."
        in shown
    )
    assert 'keyed "nobody near", taken' in shown
    assert "A drill is no flight training" in shown
