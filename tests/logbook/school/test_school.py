import subprocess
import sys
from pathlib import Path

import pytest

from runner.errors import RecordError, UsageError
from runner.logbook.record.opening import attachments_of, is_shared, open_own, open_shelf
from runner.logbook.record.run_store import Logbook
from runner.logbook.school.school import School
from tests.logbook.sample import write_run


def test_without_the_extra_libraries_the_extra_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plain installation has no SQLAlchemy."""
    monkeypatch.setitem(sys.modules, "sqlalchemy", None)
    with pytest.raises(UsageError, match=r'pip install "eyesout\[school\]"'):
        School.open("postgresql://someone@127.0.0.1/eyesout")


def test_a_logbook_is_opened_without_loading_the_extra_libraries() -> None:
    """They take time to load, and only a school needs them."""
    script = (
        "import sys, runner.command.history, runner.command.sync; "
        "print(sorted({'sqlalchemy', 'psycopg'} & sys.modules.keys()))"
    )
    root = Path(__file__).parents[3]
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=root, capture_output=True, text=True, check=True
    )
    assert done.stdout == "[]\n"


@pytest.mark.parametrize(
    ("place", "expected"),
    [
        ("postgresql://a@b/c", True),
        ("postgres://a@b/c", True),
        ("/home/a/logbook", False),
        ("postgresql", False),
        ("C:\\logbook", False),
    ],
)
def test_an_address_is_told_from_a_folder(place: str, *, expected: bool) -> None:
    """By its scheme."""
    assert is_shared(place) is expected


def test_a_folder_is_opened_only_where_a_logbook_is(tmp_path: Path) -> None:
    """Unless one may be made."""
    with pytest.raises(RecordError, match="no logbook in"):
        open_shelf(str(tmp_path))
    with open_own(str(tmp_path), may_make=True) as logbook:
        assert isinstance(logbook, Logbook)
    run = write_run(tmp_path)
    with open_shelf(str(tmp_path)) as shelf:
        assert isinstance(shelf, Logbook)
        assert attachments_of(shelf).text(shelf.header(run).check_sha256).startswith("title:")
