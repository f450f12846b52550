"""The README's table of what each check notices."""

import re
from pathlib import Path

import pytest

from runner.checklist.derive.derived_check import derive
from runner.checklist.format.check_load import parse_check
from runner.fault.fault_audit import audit
from tests.checklist.shipped import shipped_airplane, shipped_check

README = (Path(__file__).parents[2] / "README.md").read_text("utf-8")
PAIRS = (("merlow-ml2", "merlow-reserve"), ("tarn-qx83", "tarn-reserve"), ("pellow-jv62", "pellow-reserve"))
GOAL = 0.95


@pytest.mark.parametrize(("name", "check"), PAIRS)
def test_the_table_says_what_the_audit_says(name: str, check: str) -> None:
    """Of the shipped check and of the derived one."""
    airplane = shipped_airplane(name)
    rows = {
        f"`{check}`": shipped_check(check),
        f"derived from `{name}`": parse_check(derive(airplane), Path("derived.yaml")),
    }
    for title, asked in rows.items():
        found = audit(asked, airplane)
        whole = len(found.noticed) + len(found.unnoticed)
        cells = f"{len(found.noticed)} of {whole} ({found.share * 100:.0f} %)"
        row = f"| {title} | {cells} | {len(found.elsewhere)} | {len(found.unseen)} |"
        assert re.search(re.escape(row), README), row


@pytest.mark.parametrize(("name", "check"), PAIRS)
def test_each_check_notices_95_of_100(name: str, check: str) -> None:
    """Of the single failures that can be seen where it goes; a shipped one does too."""
    airplane = shipped_airplane(name)
    derived = audit(parse_check(derive(airplane), Path("derived.yaml")), airplane)
    assert derived.share >= GOAL
    assert audit(shipped_check(check), airplane).share >= GOAL
