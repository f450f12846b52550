"""The whole demo: a spoken check through the real synthesiser, the real ear and the real record."""

from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest

from runner.command.pilot import PilotResult, PilotRun, run_pilot
from runner.core.event import Answered, Misheard
from runner.core.grid.machine import Machine
from runner.core.record.entry import AnswerRecorded
from runner.core.record.run_summary import summarise
from runner.core.state import State
from runner.language.catalogue import Outcome
from runner.language.number import readback
from runner.language.spelling import normalise
from runner.logbook.proof.audit import audit_folder
from runner.logbook.record.run_store import Logbook
from runner.place import data_folder
from runner.session.engine import BUILTIN
from runner.session.parts import recorded_parts
from runner.session.scripted.scripted_run import Told
from runner.voice.port import RATE
from runner.voice.sound import read_sound

MUMBLED = "those look all right to me"


@pytest.fixture(scope="module")
def told() -> list[Told]:
    """What was printed while the demo ran."""
    return []


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory, told: list[Told]) -> PilotResult:
    """Run it once."""
    folder = tmp_path_factory.mktemp("demo")
    return run_pilot(
        PilotRun(
            "",
            data_folder("demo") / "merlow-pilot.yaml",
            folder / "logbook",
            folder / "exchange.wav",
            BUILTIN,
            "demo",
        ),
        told.append,
    )


def test_the_check_is_completed(demo: PilotResult) -> None:
    """Every item that applies has an answer; one reading is a squawk with its value."""
    summary = demo.scripted.summary
    assert demo.scripted.state is State.COMPLETE
    assert summary.unanswered == ()
    (squawk,) = summary.squawks
    assert isinstance(squawk, AnswerRecorded)
    assert (squawk.item, squawk.outcome) == ("volts after", Outcome.SQUAWK)
    assert (summary.corrections, summary.holds) == (1, 1)


def test_what_was_said_is_what_was_heard(demo: PilotResult) -> None:
    """Word for word and in order; what is not in force is refused and asked again."""
    said = [normalise(spoken.line.say) for spoken in demo.scripted.spoken]
    heard = [event.text if isinstance(event, Answered) else None for event in demo.scripted.heard]
    assert heard == [None if words == MUMBLED else words for words in said]
    assert sum(isinstance(event, Misheard) for event in demo.scripted.heard) == 1


def test_the_readings_are_exact(demo: PilotResult) -> None:
    """A temperature and three voltages, each as it was said."""
    readings = {
        answer.item: Decimal(answer.answer) for answer in demo.scripted.summary.answers if answer.unit
    }
    assert readings == {
        "battery temperature": Decimal(18),
        "battery at rest": Decimal("25.2"),
        "volts on reserve": Decimal("25.1"),
        "volts after": Decimal("23.2"),
    }


def test_each_reading_is_read_back_digit_by_digit(demo: PilotResult, told: list[Told]) -> None:
    """ICAO Annex 10 Vol II 5.2.1.4.4 (from memory): numbers are verified by reading them back."""
    spoken = " ".join(line.text.lower() for line in told if line.who == "eyesout")
    for answer in demo.scripted.summary.answers:
        if answer.unit:
            number = demo.parts.check.item(answer.item).body.number
            assert number is not None
            assert readback(Decimal(answer.answer), number.unit, number.resolution) in spoken


def test_the_spin_up_times_are_true(demo: PilotResult) -> None:
    """Within 0.15 s of the time from one onset to the other, as the pilot spoke them."""
    onset = {spoken.line.say: spoken.onset_at for spoken in demo.scripted.spoken}
    power_on = onset["reserve selected"]
    truth = {
        "left attitude": onset["attitude flag pulled"] - power_on,
        "left compass": onset["compass flag pulled"] - power_on,
    }
    assert {clock.item for clock in demo.scripted.summary.clocks} == set(truth)
    for clock in demo.scripted.summary.clocks:
        assert clock.seconds == pytest.approx(truth[clock.item], abs=0.15)


def test_the_record_is_whole_and_gives_the_same_run(demo: PilotResult) -> None:
    """The chain verifies, and the fold of the entries is the run."""
    folder = demo.logbook.parent
    with Logbook.open(folder) as logbook:
        machine = Machine(recorded_parts(logbook, demo.run).plan, logbook.entries(demo.run))
    assert machine.state is State.COMPLETE
    assert summarise(machine.progress).answers == demo.scripted.summary.answers
    assert audit_folder(folder).is_whole


def test_the_sound_of_the_exchange_can_be_played(demo: PilotResult) -> None:
    """As long as the check, with both voices in it."""
    sound = read_sound(demo.exchange)
    summary = demo.scripted.summary
    assert summary.started_at is not None
    assert summary.ended_at is not None
    assert sound.rate == RATE
    assert sound.seconds >= summary.ended_at - summary.started_at
    assert float(np.abs(sound.samples).max()) > 0.1


def test_the_exchange_never_says_that_the_airplane_is_safe(told: list[Told], demo: PilotResult) -> None:
    """The tool advises and records; it does not judge."""
    assert demo.run
    assert not any("safe" in line.text.lower() for line in told if line.who == "eyesout")
    assert Path(demo.exchange).is_file()
