import os
import random
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from runner.errors import RecordError
from runner.logbook.proof.audit import audit_folder
from runner.logbook.proof.recover import salvage
from runner.logbook.record.run_store import FILE, Logbook
from tests.logbook.sample import AIRPLANE_TEXT, CHECK_TEXT, STARTED_AT, new_run, whole_run, write_run

LINES = len(list(whole_run())) + 1
RUNS = 8


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, tuple[str, ...]]]:
    """A logbook of eight whole runs, and the texts of each run's lines."""
    folder = tmp_path_factory.mktemp("written")
    names = [write_run(folder, started_at=STARTED_AT + 86_400 * day) for day in range(RUNS)]
    found = {one.chain: tuple(line.text for line in one.lines) for one in salvage(folder).chains}
    assert sorted(found) == sorted(names)
    assert {len(lines) for lines in found.values()} == {LINES}
    return folder, found


def _copy(written: Path, folder: Path) -> Path:
    shutil.copytree(written, folder, dirs_exist_ok=True)
    return folder / FILE


def _truncate(path: Path, chance: random.Random) -> None:
    os.truncate(path, chance.randrange(1, path.stat().st_size))


def _flip(path: Path, chance: random.Random) -> None:
    data = bytearray(path.read_bytes())
    for _ in range(20):
        data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
    path.write_bytes(data)


def _zero_a_page(path: Path, chance: random.Random) -> None:
    data = bytearray(path.read_bytes())
    page = chance.randrange(len(data) // 4096)
    data[page * 4096 : (page + 1) * 4096] = bytes(4096)
    path.write_bytes(data)


def _tear_a_page(path: Path, chance: random.Random) -> None:
    data = bytearray(path.read_bytes())
    page = chance.randrange(len(data) // 4096)
    data[page * 4096 + 512 : (page + 1) * 4096] = chance.randbytes(4096 - 512)
    path.write_bytes(data)


@pytest.mark.parametrize("damage", [_truncate, _flip, _zero_a_page, _tear_a_page])
@pytest.mark.parametrize("seed", range(12))
def test_after_any_damage_only_true_lines_are_read_and_losses_are_named(
    written: tuple[Path, dict[str, tuple[str, ...]]],
    tmp_path: Path,
    damage: Callable[[Path, random.Random], None],
    seed: int,
) -> None:
    """What is salvaged of a run is exactly its beginning; a loss has a fault; the file is untouched."""
    folder, truth = written
    path = _copy(folder, tmp_path)
    damage(path, random.Random(seed))
    before = path.read_bytes()
    found = salvage(tmp_path)
    assert path.read_bytes() == before
    for one in found.chains:
        lines = tuple(line.text for line in one.lines)
        assert lines == truth.get(one.chain, ())[: len(lines)]
        assert one.fault is not None or len(lines) == LINES
    for text in found.snapshots.values():
        assert text in (CHECK_TEXT, AIRPLANE_TEXT)


@pytest.mark.parametrize("damage", [_truncate, _flip, _zero_a_page, _tear_a_page])
@pytest.mark.parametrize("seed", range(12))
def test_verify_never_calls_a_logbook_whole_that_lost_a_line(
    written: tuple[Path, dict[str, tuple[str, ...]]],
    tmp_path: Path,
    damage: Callable[[Path, random.Random], None],
    seed: int,
) -> None:
    """Either every line of every run is still there, or verify says what is not."""
    folder, truth = written
    path = _copy(folder, tmp_path)
    damage(path, random.Random(seed))
    result = audit_folder(tmp_path)
    if result.is_whole:
        with Logbook.open(tmp_path) as logbook:
            for run in truth:
                assert logbook.entries(run)
        assert {verdict.lines for verdict in result.verdicts} == {LINES}
        assert len(result.verdicts) == RUNS


def test_runs_are_read_when_the_first_page_is_gone(
    written: tuple[Path, dict[str, tuple[str, ...]]], tmp_path: Path
) -> None:
    """SQLite then refuses the file altogether; every line is still found in its bytes."""
    folder, truth = written
    path = _copy(folder, tmp_path)
    data = path.read_bytes()
    path.write_bytes(bytes(4096) + data[4096:])
    with pytest.raises(RecordError, match="`eyesout verify` says what can be read"):
        Logbook.open(tmp_path)
    found = {one.chain: tuple(line.text for line in one.lines) for one in salvage(tmp_path).chains}
    assert found == truth
    assert not audit_folder(tmp_path).is_whole


def test_a_flipped_bit_in_the_write_ahead_log_is_reported_and_kept_aside(tmp_path: Path) -> None:
    """SQLite drops frames behind the damage in silence; the logbook says so and keeps them."""
    live, copy = tmp_path / "live", tmp_path / "copy"
    with Logbook.open(live) as logbook, new_run(logbook) as handle:
        for entry in whole_run():
            handle.append(entry)
        shutil.copytree(live, copy)  # as a dead battery would leave it: the log not yet taken over
    log = copy / f"{FILE}-wal"
    data = bytearray(log.read_bytes())
    data[len(data) * 2 // 3] ^= 1
    log.write_bytes(data)
    with Logbook.open(copy) as damaged:
        assert len(damaged.entries(handle.run)) < LINES - 1
        assert "an unfinished or damaged write was found" in damaged.notices[0]
    kept = next(copy.glob("set-aside-*.wal"))
    assert kept.read_bytes() == data


def test_a_write_ahead_log_left_whole_is_taken_over_without_a_word(tmp_path: Path) -> None:
    """The usual case after a kill: nothing lost, no notice."""
    live, copy = tmp_path / "live", tmp_path / "copy"
    with Logbook.open(live) as logbook, new_run(logbook) as handle:
        for entry in whole_run():
            handle.append(entry)
        shutil.copytree(live, copy)
    with Logbook.open(copy) as again:
        assert again.entries(handle.run) == tuple(whole_run())
        assert again.notices == ()


def test_a_folder_without_a_logbook_is_one_line(tmp_path: Path) -> None:
    """Nothing is created by looking."""
    with pytest.raises(RecordError, match="no logbook in"):
        salvage(tmp_path)
    assert list(tmp_path.iterdir()) == []
