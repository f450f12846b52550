import json
import os
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

pytest.importorskip("sqlalchemy")
from sqlalchemy import create_engine, text
from sqlalchemy.engine import make_url

from runner.command import export, history, intake, maintenance, show, squawk, sync, verify
from runner.errors import RecordError, UsageError
from runner.logbook.record.clip_file import keep_clip
from runner.logbook.record.run_store import Logbook
from runner.logbook.squawk.maintenance_record import Noted, file_record
from tests.command.records import asked
from tests.logbook.sample import STARTED_AT, write_run

SERVER = os.environ.get("EYESOUT_POSTGRES", "")
needs_server = pytest.mark.skipif(not SERVER, reason='needs a PostgreSQL: eval "$(.ci/postgres)"')


@pytest.fixture
def address() -> Iterator[str]:
    """An empty database of the real server, gone afterwards."""
    name = f"command_{os.getpid()}_{threading.get_ident()}"
    engine = create_engine(
        make_url(SERVER).set(drivername="postgresql+psycopg"), isolation_level="AUTOCOMMIT"
    )
    with engine.connect() as connection:
        connection.execute(text(f"DROP DATABASE IF EXISTS {name} WITH (FORCE)"))
        connection.execute(text(f"CREATE DATABASE {name}"))
        yield make_url(SERVER).set(database=name).render_as_string(hide_password=False)
        connection.execute(text(f"DROP DATABASE {name} WITH (FORCE)"))
    engine.dispose()


@needs_server
def test_what_was_synced_is_read_from_the_school_by_every_command(tmp_path: Path, address: str) -> None:
    """Lists, one run, squawks, verify and an export with its clip say the same as at home."""
    home, school = ("--logbook", str(tmp_path)), ("--logbook", address)
    run = write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook:
        clip = keep_clip(logbook.clips, b"RIFF and so on")
        file_record(logbook, run, Noted(STARTED_AT + 200, "A. Invented", "volts", "listen", clip))
    asked(maintenance, "lark", "--done", "battery replaced", "--by", "C. Invented", *home)
    assert asked(sync, address, *home) == "3 records new or grown at the school, 17 lines\n"
    assert json.loads(asked(sync, address, "--json", *home)) == {"chains": 0, "lines": 0, "refused": []}
    for command, words in (
        (history, ("lark", "--json")),
        (show, (run, "--json")),
        (squawk, ("list", "--all", "--json")),
        (maintenance, ("X-LARK", "--json")),
        (export, (run,)),
        (export, ()),
    ):
        assert asked(command, *words, *school) == asked(command, *words, *home)
    found = [json.loads(asked(verify, "--json", *place)) for place in (school, home)]
    assert found[0]["verdicts"] == found[1]["verdicts"]
    assert "a school's" in found[0]["remarks"][0]


@needs_server
def test_a_school_is_not_written_to_by_other_commands(tmp_path: Path, address: str) -> None:
    """They would leave the home logbook behind."""
    file = tmp_path / "x.jsonl"
    words = ("close", "last", "volts", "--by", "A", "--how", "x", "--logbook", address)
    with pytest.raises(UsageError, match="grow by `eyesout sync` only"):
        asked(squawk, *words)
    with pytest.raises(UsageError, match="grow by `eyesout sync` only"):
        asked(intake, str(file), "--logbook", address)


def test_sync_to_something_else_is_refused(tmp_path: Path) -> None:
    """With the form of the address."""
    write_run(tmp_path)
    with pytest.raises(UsageError, match="postgresql://USER@HOST/DATABASE"):
        asked(sync, "somewhere", "--logbook", str(tmp_path))


def test_sync_to_a_server_that_is_off_is_one_line(tmp_path: Path) -> None:
    """Port 1 of this computer."""
    write_run(tmp_path)
    with pytest.raises(RecordError, match="nothing is lost, try again"):
        asked(sync, "postgresql://someone@127.0.0.1:1/eyesout", "--logbook", str(tmp_path))
