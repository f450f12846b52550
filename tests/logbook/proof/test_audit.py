from pathlib import Path

import pytest

from runner.errors import RecordError
from runner.logbook.proof.audit import audit_folder
from runner.logbook.record.run_store import Logbook
from tests.logbook.sample import write_run


def test_an_untouched_logbook_is_whole(tmp_path: Path) -> None:
    """Every chain is listed with its length and its last hash."""
    run = write_run(tmp_path)
    result = audit_folder(tmp_path)
    assert result.is_whole
    assert [(verdict.chain, verdict.lines) for verdict in result.verdicts] == [(run, 13)]
    assert len(result.verdicts[0].digest) == 64


def test_a_folder_without_a_logbook_is_refused_and_left_as_it_is(tmp_path: Path) -> None:
    """An audit of nothing finds nothing wrong, which nobody may take for a whole record."""
    with pytest.raises(RecordError, match=r"no logbook in .*; name its folder with --logbook"):
        audit_folder(tmp_path)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        (
            "UPDATE line SET text = replace(text, '21.40', '24.40') WHERE sequence = 8",
            "line 8 does not match",
        ),
        ("DELETE FROM line WHERE sequence = 6", "line 6 is missing"),
        ("DELETE FROM line WHERE sequence >= 9", "the record ends at line 8, but 12 lines were written"),
        ("UPDATE line SET sequence = 99 WHERE sequence = 12", "line 12 is stored as line 99"),
        ("UPDATE chain SET digest = 'x'", "the record ends at line 12"),
        ("UPDATE snapshot SET text = text || ' '", "was changed after it was recorded"),
        ("DELETE FROM snapshot", "is missing from"),
        ("UPDATE run SET squawks = 0", "the summary of the run disagrees"),
        ("UPDATE run SET state = 'open'", "the summary of the run disagrees"),
        ("UPDATE answer SET value = 24.4 WHERE item = 'volts'", "the summary of its answers disagrees"),
        ("DELETE FROM answer WHERE item = 'lamps'", "the summary of its answers disagrees"),
    ],
)
def test_each_way_of_tampering_is_named(tmp_path: Path, change: str, fault: str) -> None:
    """One statement by someone with the file in hand; verify tells what it did."""
    write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook, logbook.writing() as connection:
        connection.execute(change)
    result = audit_folder(tmp_path)
    assert not result.is_whole
    assert any(fault in found for verdict in result.verdicts for found in verdict.faults), result
