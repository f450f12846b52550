"""The command line: one line and an exit code for every error."""

import pytest

from runner import cli
from runner.language.catalogue import STANDING_CAUTION


def _run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = cli.main(words)
    printed = capsys.readouterr()
    return code, printed.out, printed.err


def test_without_a_command_it_lists_them_and_the_caution(capsys: pytest.CaptureFixture[str]) -> None:
    """The overview names every command and the standing caution; alone it is a usage error."""
    code, out, _ = _run(capsys)
    assert code == 2
    assert all(name in out for name in cli.COMMANDS)
    assert STANDING_CAUTION in out
    assert _run(capsys, "--help")[0] == 0


def test_an_unknown_command_gets_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    """Exit code 2, and the known commands."""
    code, out, err = _run(capsys, "fly")
    assert (code, out) == (2, "")
    assert err.count("\n") == 1
    assert 'no command "fly"' in err


@pytest.mark.parametrize(
    ("words", "code", "part"),
    [
        (("run", "no-such-check"), 2, "no check"),
        (("run", "gone.yaml"), 2, "gone.yaml:1:1: there is no such file"),
        (("run",), 2, "name a check"),
        (("run", "merlow-reserve", "--json"), 2, "--json goes with --pilot"),
        (("run", "--pilot", "gone.yaml"), 2, "gone.yaml:1:1"),
        (("hear", "--phrases", "|", "x.wav"), 2, "no phrase given"),
        (("hear", "--phrases", "yes", "--engine", "vosk:/nowhere", "x.wav"), 3, "/nowhere"),
        (("hear", "--phrases", "yes", "--engine", "oracle", "x.wav"), 3, 'no ear "oracle"'),
        (("hear", "--phrases", "yes", "gone.wav"), 4, "gone.wav"),
    ],
)
def test_an_error_is_one_line_with_its_code(
    capsys: pytest.CaptureFixture[str], words: tuple[str, ...], code: int, part: str
) -> None:
    """What happened, with which value, on standard error, and nothing on standard output."""
    got, out, err = _run(capsys, *words)
    assert (got, out) == (code, "")
    assert err.startswith("eyesout: ")
    assert err.count("\n") == 1
    assert part in err


def test_the_version_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    """As installed."""
    assert _run(capsys, "--version")[1].startswith("eyesout 0.")
