"""Every command with all the bad that it can be given: one clear line and an exit code, no traceback."""

import io
import itertools
import os
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import soundfile

from runner import cli
from runner.command import endurance, run
from runner.errors import UsageError

SECOND = 16_000

Spoken = Callable[..., tuple[int, str]]
Write = Callable[[Path], object]

TEXTS: dict[str, Write] = {
    "nested": lambda path: path.write_text("[" * 100_000),
    "indented": lambda path: path.write_text("".join(" " * n + "a:\n" for n in range(1_500))),
    "laughs": lambda path: path.write_text(
        "b0: &b0 [x, x]\n" + "".join(f"b{n}: &b{n} [{', '.join([f'*b{n - 1}'] * 9)}]\n" for n in range(1, 30))
    ),
    "long line": lambda path: path.write_text("title: " + "x" * 2_000_000),
    "binary": lambda path: path.write_bytes(bytes(range(256)) * 16),
    "nul": lambda path: path.write_bytes(b"title: a\0b\n"),
    "latin": lambda path: path.write_bytes(b"title: \xe9\n"),
    "empty": lambda path: path.write_text(""),
    "number": lambda path: path.write_text("9" * 5_000),
    "nan": lambda path: path.write_text('{"kind": NaN}\n'),
    "objects": lambda path: path.write_text('{"a":' * 100_000),
    "folder": lambda path: path.mkdir(),
    "missing": lambda path: path.unlink(missing_ok=True),
    "unreadable": lambda path: path.symlink_to("/proc/self/mem"),
}


def _sound(samples: object, rate: int = SECOND) -> Write:
    return lambda path: soundfile.write(path, np.asarray(samples, np.float32), rate, "FLOAT", format="WAV")


SOUNDS: dict[str, Write] = {
    "nan": _sound(np.full(SECOND, np.nan)),
    "infinite": _sound(np.r_[np.zeros(SECOND), -np.inf]),
    "no samples": _sound([]),
    "1 Hz": _sound(np.zeros(1_000), 1),
    "2 GHz": _sound(np.zeros(1_000), 2_147_483_647),
    "binary": TEXTS["binary"],
    "empty": TEXTS["empty"],
    "folder": TEXTS["folder"],
    "missing": TEXTS["missing"],
}
FIGURES = (
    "nan",
    "inf",
    "-inf",
    "1e400",
    "1e308",
    "-1000",
    "",
    "x",
    "9" * 5_000,
    "1_0",
    "\N{ARABIC-INDIC DIGIT THREE}",
)

FILE_COMMANDS = (
    "lint FILE",
    "bus FILE",
    "endurance FILE",
    "derive FILE",
    "run FILE --keys --logbook LOGBOOK",
    "run --pilot FILE --logbook LOGBOOK",
    "run merlow-reserve --pilot FILE --logbook LOGBOOK",
    "import FILE --logbook LOGBOOK",
    "models fetch vosk-model-small-en-us-0.15 --yes --from FILE",
    "squawk note last x --by y --clip FILE --logbook LOGBOOK",
)
FIGURE_OPTIONS = (
    "endurance tarn-qx83 --charge",
    "endurance tarn-qx83 --celsius",
    "endurance tarn-qx83 --recognise",
    "endurance tarn-qx83 --approach",
    "endurance tarn-qx83 --reach",
    "endurance tarn-qx83 --volts=25 --rested",
    "endurance tarn-qx83 --rested=5 --volts",
    "run merlow-reserve --keys --plain --oat",
    "run merlow-reserve --keys --plain --rate",
    "history --limit",
    "mic --seconds",
)
RECORD_COMMANDS = (
    "history",
    "show",
    "report --to out.html",
    "trend merlow-ml2",
    "squawk list",
    "squawk note last x --by y --text z",
    "maintenance merlow-ml2",
    "maintenance merlow-ml2 --done x --by y",
    "verify",
    "export --to out.jsonl",
    "export --salvage --to out.jsonl",
    "run merlow-reserve --keys --plain",
    "run --resume --keys --plain",
)
WRITERS = ("bus merlow-ml2 --svg", "endurance merlow-ml2 --chart", "derive merlow-ml2 --to")


@pytest.fixture
def spoken(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Spoken:
    """Runs a command in an empty folder, whose user has nothing yet: its exit code and standard error."""
    for name in ("HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "stdin", io.StringIO())

    def perform(*words: str) -> tuple[int, str]:
        code = cli.main(words)
        return code, capsys.readouterr().err

    return perform


def _filled(command: str, **named: Path | str) -> list[str]:
    return [str(named.get(word, word)) for word in command.split()]


def _assert_one_line(told: tuple[int, str], codes: tuple[int, ...]) -> None:
    code, error = told
    assert code in codes
    assert error.startswith("eyesout: ")
    assert error.count("\n") == 1
    assert len(error) < 1_000


@pytest.mark.parametrize(("command", "content"), list(itertools.product(FILE_COMMANDS, TEXTS)))
def test_a_file_that_is_none(command: str, content: str, spoken: Spoken, tmp_path: Path) -> None:
    """2 for what was named, 3 for a model, 6 for records: as runner/errors.py lists them."""
    TEXTS[content](tmp_path / "bad.yaml")
    words = _filled(command, FILE=tmp_path / "bad.yaml", LOGBOOK=tmp_path / "logbook")
    code, error = spoken(*words)
    mistakes = error.splitlines(keepends=True)  # all of an airplane file's mistakes are told, a line for each
    assert len(mistakes) == 1 or command.split(maxsplit=1)[0] in ("bus", "endurance", "derive")
    for mistake in mistakes:
        _assert_one_line((code, mistake), (2, 3, 6))


@pytest.mark.parametrize("content", SOUNDS)
def test_a_sound_that_is_none(content: str, spoken: Spoken, tmp_path: Path) -> None:
    """4 as for any sound."""
    SOUNDS[content](tmp_path / "bad.wav")
    _assert_one_line(spoken("hear", "--phrases", "unable", str(tmp_path / "bad.wav")), (4,))


@pytest.mark.parametrize(("option", "words"), list(itertools.product(FIGURE_OPTIONS, FIGURES)))
def test_a_figure_that_is_none(option: str, words: str, spoken: Spoken) -> None:
    """Before anything is begun, with the bounds to keep to."""
    *before, last = option.split()
    told = spoken(*before, f"{last}={words}")
    _assert_one_line(told, (2,))
    assert f"argument {last}: " in told[1]
    assert "write " in told[1]


@pytest.mark.parametrize(("option", "low", "high"), [("--oat", -90, 60), ("--celsius", -60, 80)])
def test_the_bounds_themselves_are_figures(option: str, low: int, high: int) -> None:
    """And what lies just outside is not."""
    command = "run" if option == "--oat" else "endurance"
    modules = {"run": run, "endurance": endurance}
    parser = cli.Parser()
    modules[command].add_arguments(parser)
    for degrees in (low, high):
        assert getattr(parser.parse_args(["x", f"{option}={degrees}"]), option[2:]) == degrees
    for outside in (low - 0.1, high + 0.1):
        with pytest.raises(UsageError):
            parser.parse_args(["x", f"{option}={outside:.1f}"])


@pytest.mark.parametrize(
    ("command", "place"),
    list(itertools.product(RECORD_COMMANDS, ("file", "garbage", "folder", "/dev/null", "/proc/1"))),
)
def test_a_logbook_that_is_none(command: str, place: str, spoken: Spoken, tmp_path: Path) -> None:
    """A file where a folder belongs, noise or a folder where the database belongs, and no room for either."""
    (tmp_path / "file").write_text("x")
    (tmp_path / "garbage").mkdir()
    (tmp_path / "garbage" / "logbook.sqlite").write_bytes(bytes(range(256)) * 64)
    (tmp_path / "folder" / "logbook.sqlite").mkdir(parents=True)
    told = spoken(*command.split(), "--logbook", place)
    if told[0] in (0, 1) and place == "garbage":  # what can be read of it is nothing, and that is said
        assert command.startswith(("verify", "export --salvage"))
    else:
        _assert_one_line(told, (2, 6))


@pytest.mark.parametrize(
    ("command", "place"),
    list(itertools.product(WRITERS, ("out/", "none/out.svg", "x" * 300 + ".svg", "", "."))),
)
def test_a_place_that_cannot_be_written(command: str, place: str, spoken: Spoken, tmp_path: Path) -> None:
    """2, and nothing is left half written."""
    (tmp_path / "out").mkdir()
    _assert_one_line(spoken(*command.split(), place), (2,))
    assert {path.name for path in tmp_path.iterdir()} <= {"home", "out"}
    assert list((tmp_path / "out").iterdir()) == []


@pytest.mark.parametrize("mode", ["bus merlow-ml2 --svg", "report --json --to", "export --to"])
def test_a_pipe_or_device_is_written_into_and_stays_what_it_is(
    mode: str, spoken: Spoken, tmp_path: Path
) -> None:
    """A file moved to its place would take it: /dev/stdout would be a file from then on."""
    spoken("run", "merlow-reserve", "--keys", "--plain", "--logbook", "lb")
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    place = () if mode.startswith("bus") else ("--logbook", "lb")
    code, error = spoken(*mode.split(), str(pipe), *place)
    os.close(reader)
    assert (code, error) == (0, "")
    assert pipe.is_fifo()


@pytest.mark.parametrize("command", ["run merlow-reserve --keys --by", "lint", "history", "hear x --phrases"])
def test_words_that_are_no_text(command: str, spoken: Spoken) -> None:
    """Bytes of another encoding, as a shell hands them on (PEP 383)."""
    _assert_one_line(spoken(*command.split(), "Zo\udceb"), (2,))
