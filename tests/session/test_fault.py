"""Whole checks in which every port may raise, hang or come late, on simulated time over the real threads."""

from typing import Final

import pytest

from runner.core.event import Port
from runner.core.record.entry import Entry, PortChanged
from tests.session.fault import FAULTS, Kind, Place, Plan, every_fault, one_fault
from tests.session.faulty_run import FaultyRun, spin_ups
from tests.session.hands import FLAGS

SEEDS: Final = range(2)


def test_without_faults_the_spin_ups_are_what_the_pilot_made_them() -> None:
    """The flags were called so long after power-on."""
    run = FaultyRun(Plan(0, {}))
    assert run.violations == []
    assert dict(spin_ups(run)) == pytest.approx(FLAGS, abs=0.002)


@pytest.mark.parametrize(("place", "kind"), FAULTS, ids=[f"{place} {kind}" for place, kind in FAULTS])
def test_a_run_goes_on_or_stops_with_its_reason(place: Place, kind: Kind) -> None:
    """Clocks right, nothing acknowledged lost, no thread left, and the record gives the same state."""
    for seed in SEEDS:
        run = FaultyRun(one_fault(seed, place, kind))
        assert run.violations == []
        assert run.stopped_by is None or place is Place.RECORD


def test_a_run_survives_everything_at_once() -> None:
    """Several ports fail in one run."""
    for seed in range(16):
        assert FaultyRun(every_fault(seed)).violations == []


def test_a_voice_that_hangs_leaves_the_question_on_the_screen_and_the_ear_open() -> None:
    """Every answer after it is taken all the same, and by voice."""
    run = FaultyRun(Plan(1, {(Place.MOUTH, Kind.HANGS): 1.0}))
    assert run.violations == []
    lost = [entry for entry in run.entries if isinstance(entry, PortChanged)]
    assert [(entry.port, entry.reason) for entry in lost] == [(Port.MOUTH, "no answer for 5 s")]
    assert {line["channel"] for line in run.disk if line["kind"] == "answer recorded"} == {"voice"}


def test_a_disk_that_is_full_stops_the_run_and_names_the_selector() -> None:
    """With the reserve selected the pilot is told to put it back; what failed is said and nothing else."""
    for seed in range(40):
        run = FaultyRun(one_fault(seed, Place.RECORD, Kind.FULL))
        if "Put back yourself" in str(run.stopped_by):
            break
    assert str(run.stopped_by).startswith("database or disk is full; free some space. The record cannot")
    assert str(run.stopped_by).endswith("Put back yourself what is still out. NORMAL.")


class _Forgetful(FaultyRun):
    """A run whose record takes an answer and does not keep it."""

    def append(self, entry: Entry) -> None:
        """All but the second."""
        super().append(entry)
        if len(self.disk) == 2:
            del self.disk[1]


def test_a_lost_entry_is_noticed() -> None:
    """The watch can fail: something was said of what is not on disk."""
    assert any("said before it was written" in words for words in _Forgetful(Plan(0, {})).violations)
