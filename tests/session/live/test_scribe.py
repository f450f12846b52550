"""The record is written on a thread of its own; what is not on disk in time ends the run."""

import threading

import pytest

from runner.core.record.entry import Entry, Held
from runner.errors import RecordError
from runner.session.live.scribe import Scribe
from runner.voice.card.audio_clock import start_clock
from tests.session.simulation import EVER, Simulation


def test_an_entry_is_written_when_append_returns() -> None:
    """In its order."""
    written: list[Entry] = []
    scribe = Scribe(written.append, start_clock())
    scribe.append(Held(1.0))
    scribe.append(Held(2.0))
    assert written == [Held(1.0), Held(2.0)]
    assert scribe.close()


def test_whatever_a_disk_raises_is_a_record_error() -> None:
    """Our own goes through as it is, anything else with its reason."""

    def refuse(entry: Entry) -> None:
        raise RecordError("disk is full") if entry.at else OSError(5, "Input/output error")

    scribe = Scribe(refuse, start_clock())
    with pytest.raises(RecordError, match=r"^disk is full$"):
        scribe.append(Held(1.0))
    with pytest.raises(RecordError, match=r"could not be written .*Input/output error"):
        scribe.append(Held(0.0))
    assert scribe.close()


def test_a_disk_that_hangs_is_given_up() -> None:
    """After the limit, by the session's clock."""
    simulation = Simulation(0.0)
    scribe = Scribe(lambda _entry: simulation.hang(EVER), simulation)
    with simulation.writing(), pytest.raises(RecordError, match="within 12 s"):
        scribe.append(Held(1.0))
    assert simulation.now() == 12.0
    simulation.end()
    assert scribe.close()
    assert not any(thread.name == "record" for thread in threading.enumerate())
