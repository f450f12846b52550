import json
from pathlib import Path

import pytest

from runner.command import squawk
from runner.errors import RecordError, UsageError
from runner.logbook.record.clip_file import read_clip
from runner.logbook.squawk.deferral import STANDING
from tests.command.records import asked
from tests.logbook.sample import write_run


@pytest.fixture
def place(tmp_path: Path) -> tuple[str, str]:
    """A logbook with one run that raised a squawk about its volts."""
    write_run(tmp_path)
    return "--logbook", str(tmp_path)


def test_a_squawk_goes_from_open_to_deferred_to_closed(place: tuple[str, str]) -> None:
    """Each step says who and how; a closed one leaves the list."""
    assert "open   volts  21.40 volts" in asked(squawk, *place)
    asked(squawk, *place, "note", "last", "volts", "--by", "A. Invented", "--text", "seen again")
    words = ("--reference", "log page 7", "--until", "2025-12-24", "--answer", "d2i=no")
    shown = asked(squawk, "defer", "last", "volts", "--by", "B. Invented", *words, *place)
    assert "deferred until 2025-12-24 under log page 7" in shown
    assert "Not answered: d1, d2ii, d2iii, d2iv, d3, d4." in shown
    assert "deferred  volts" in asked(squawk, "list", "lark", *place)
    closing = asked(squawk, "close", "last", "volts", "--by", "C. Invented", "--how", "new battery", *place)
    assert "C. Invented: closed: new battery" in closing
    assert "no squawks that are not closed" in asked(squawk, *place)
    (one,) = json.loads(asked(squawk, "list", "--all", "--json", *place))
    assert one["state"] == "closed"
    assert [record["kind"] for record in one["records"]] == ["noted", "deferred", "closed"]


def test_a_note_may_be_a_sound_clip(place: tuple[str, str], tmp_path: Path) -> None:
    """It is copied beside the logbook under the name of its hash."""
    sound = tmp_path / "whine.WAV"
    sound.write_bytes(b"RIFF and so on")
    words = ("note", "last", "volts", "--by", "A. Invented", "--clip", str(sound))
    one = json.loads(asked(squawk, *words, "--json", *place))
    clip = one["records"][0]["clip"]
    assert clip.endswith(".wav")
    assert read_clip(tmp_path / "clips", clip) == b"RIFF and so on"


@pytest.mark.parametrize(
    ("words", "error", "why"),
    [
        (("note", "last", "volts", "--by", "A"), UsageError, "a note needs --text, --clip, or both"),
        (("note", "last", "volts", "--by", "A", "--clip", "/none.wav"), RecordError, "No such file"),
        (("note", "last", "lamps", "--by", "A", "--text", "x"), RecordError, 'no squawk "lamps"; it has: '),
        (("close", "2024", "volts", "--by", "A", "--how", "x"), RecordError, 'no run "2024"'),
        (
            ("defer", "last", "volts", "--by", "A", "--reference", "x", "--until", "2025-02-30"),
            UsageError,
            '"2025-02-30" is no date; write YYYY-MM-DD',
        ),
        (("questions", "d9=yes"), UsageError, '"d9=yes" is no answer; write d1=yes'),
        (("questions", "d1=maybe"), UsageError, '"d1=maybe" is no answer'),
    ],
)
def test_what_does_not_fit_is_refused_and_nothing_recorded(
    place: tuple[str, str], words: tuple[str, ...], error: type[Exception], why: str
) -> None:
    """One line each, and the squawk stays as it was."""
    with pytest.raises(error, match=why):
        asked(squawk, *words, *place)
    (one,) = json.loads(asked(squawk, "--json", *place))
    assert one["records"] == []


def test_the_questions_are_asked_and_never_answered_for_the_pilot(place: tuple[str, str]) -> None:
    """With or without answers the last line says who decides."""
    assert asked(squawk, "questions", *place).rstrip().endswith(STANDING)
    answers = ("d1=yes", "d2i=no", "d2ii=yes", "d2iii=no", "d2iv=no", "d3=yes", "d4=yes")
    words = asked(squawk, "questions", *answers, *place)
    assert words.count("not as the paragraph asks") == 1
    assert words.rstrip().endswith(f"Not as 91.213(d) asks: d2ii. {STANDING}")
    plain = json.loads(asked(squawk, "questions", *answers, "--json", *place))
    assert plain["standing"] == STANDING
    assert [row["finding"] for row in plain["questions"]].count("as the paragraph asks") == 6
