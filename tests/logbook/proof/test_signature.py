"""Signatures of the links: what someone without the key changes, or cuts off after a report, shows."""

import json
import shutil
import stat
from pathlib import Path

import pytest

from runner.command import report, verify
from runner.errors import UsageError
from runner.logbook.proof.audit import audit_folder
from runner.logbook.proof.logbook_witness import Witness, witness_of
from runner.logbook.proof.signature import is_signed, make_key, own_key, read_public
from runner.logbook.record.run_store import FILE, Logbook
from runner.place import key_file
from tests.command.records import asked
from tests.logbook.sample import STARTED_AT, write_run

DAY = 86_400


@pytest.fixture(autouse=True)
def _home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A config folder of the test's own."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))


def test_a_signature_is_the_published_one() -> None:
    """RFC 8032 section 7.1, test 2: this message, this key, this signature (hexadecimal there)."""
    import base64  # noqa: PLC0415 - only this test needs it

    public = bytes.fromhex("3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c")
    signature = bytes.fromhex(
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da"
        "085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00"
    )
    assert is_signed(public, base64.b64encode(signature).decode(), "r")
    assert not is_signed(public, base64.b64encode(signature).decode(), "s")


def test_a_key_is_made_only_when_asked_for(tmp_path: Path) -> None:
    """A run makes none; the command makes one that only its user can read, and never a second one."""
    write_run(tmp_path / "book")
    assert own_key() is None
    assert not key_file().exists()
    told = asked(verify, "--make-key")
    assert "ed25519:" in told
    assert stat.S_IMODE(key_file().stat().st_mode) == 0o600
    with pytest.raises(UsageError, match="it is not replaced"):
        make_key()


def _signed(folder: Path) -> str:
    asked(verify, "--make-key")
    write_run(folder)
    write_run(folder, started_at=STARTED_AT + DAY)
    key = own_key()
    assert key is not None
    return key.public


def test_what_the_key_signed_is_found_signed(tmp_path: Path) -> None:
    """Against the right key all is whole; against another nothing is."""
    public = _signed(tmp_path / "book")
    assert audit_folder(tmp_path / "book", Witness(public=public)).is_whole
    other = "ed25519:" + "A" * 43 + "="
    assert "is signed by this key" in audit_folder(tmp_path / "book", Witness(public=other)).faults[-1]


def test_a_logbook_that_was_written_anew_without_the_key_shows(tmp_path: Path) -> None:
    """Every hash and every link is right, and yet it is another record: no signature of the key is on it."""
    public = _signed(tmp_path / "book")
    key_file().unlink()
    write_run(tmp_path / "forged")
    write_run(tmp_path / "forged", started_at=STARTED_AT + DAY)
    assert audit_folder(tmp_path / "forged").is_whole
    assert not audit_folder(tmp_path / "forged", Witness(public=public)).is_whole


def test_what_was_added_without_the_key_shows(tmp_path: Path) -> None:
    """The signed part stands; the rest is named."""
    public = _signed(tmp_path / "book")
    key_file().unlink()
    write_run(tmp_path / "book", started_at=STARTED_AT + 2 * DAY)
    faults = audit_folder(tmp_path / "book", Witness(public=public)).faults
    assert faults == ("links 9 to 10 are not signed by this key",)


def test_a_changed_signature_shows_without_any_key(tmp_path: Path) -> None:
    """Each signature is held against the key beside it."""
    _signed(tmp_path / "book")
    from runner.logbook.record.chain import canonical, digest, read_line  # noqa: PLC0415 - only this test forges

    with Logbook.open(tmp_path / "book") as logbook, logbook.writing() as connection:
        number, text = connection.execute(
            "SELECT c.number, l.text FROM chain c JOIN line l ON l.chain = c.number "
            "AND l.sequence = c.length - 1 WHERE c.kind = 'links'"
        ).fetchone()
        line = read_line(text)
        value = json.loads(text)
        value["body"]["signature"] = "A" * 86 + "=="
        new = canonical(value)
        connection.execute(
            "UPDATE line SET text = ?, digest = ? WHERE chain = ? AND sequence = ?",
            (new, digest(new), number, line.sequence),
        )
        connection.execute("UPDATE chain SET digest = ? WHERE number = ?", (digest(new), number))
    assert "the signature does not fit" in audit_folder(tmp_path / "book").faults[0]


def test_a_report_is_a_witness_of_the_last_runs(tmp_path: Path) -> None:
    """The file is put back as it was before the last run: only what was printed since tells."""
    book, early = tmp_path / "book", tmp_path / "early"
    write_run(book)
    early.mkdir()
    shutil.copy(book / FILE, early / FILE)
    write_run(book, started_at=STARTED_AT + DAY)
    paper = tmp_path / "report.json"
    with Logbook.open(book) as logbook:
        paper.write_text(json.dumps({"logbook": witness_of(logbook).as_json()}))
    assert asked(verify, "--against", str(paper), "--logbook", str(book))
    told = asked(verify, "--against", str(paper), "--logbook", str(early), code=1)
    assert "records made before that report are gone" in told


def test_every_report_says_where_the_links_stood_and_whose_key_signs(tmp_path: Path) -> None:
    """The JSON form can be handed to verify as it is; the page has the same words."""
    public = _signed(tmp_path / "book")
    place = str(tmp_path / "book")
    paper, page = tmp_path / "fleet.json", tmp_path / "fleet.html"
    asked(report, "--fleet", "--json", "--to", str(paper), "--logbook", place)
    asked(report, "--fleet", "--html", "--to", str(page), "--logbook", place)
    found = json.loads(paper.read_text())["logbook"]
    assert found["key"] == public
    assert found["sha256"] in page.read_text()
    assert public.partition(":")[2].rstrip("=")[:20] in page.read_text()
    asked(verify, "--against", str(paper), "--logbook", place)


@pytest.mark.parametrize("words", ["ed25519:", "ed25519:AAAA", "nothing-there", "ed25519:" + "!" * 44])
def test_what_is_no_key_is_refused(words: str) -> None:
    """With the form that is expected."""
    with pytest.raises(UsageError, match="public key"):
        Witness.read(words)


def test_a_key_in_a_file_is_read(tmp_path: Path) -> None:
    """As it is printed, with or without a newline."""
    public = "ed25519:" + "A" * 43 + "="
    (tmp_path / "key").write_text(public + "\n")
    assert Witness.read(str(tmp_path / "key")) == Witness(public=public)
    assert len(read_public(public)) == 32
