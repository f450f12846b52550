"""What a terminal shows of a run at its end."""

from dataclasses import replace

import pytest

from runner.command.closing import finding_lines, value_of
from runner.core.answer_origin import Reception
from runner.core.record.entry import AnswerRecorded, ClockEnded
from runner.core.record.run_summary import Summary, summarise
from runner.language.catalogue import Outcome, Word
from runner.session.parts import Parts, load_parts
from tests.core import danger
from tests.core.sample import Run, completed
from tests.logbook.sample import answer

VOLTS = answer(10.0, "volts on reserve", "21.4", Outcome.SQUAWK, "volts")
LAMPS = answer(20.0, "gear lamps", "left out", Outcome.CAUTION)


def flag(item: str, *, is_pulled: bool, outcome: Outcome) -> ClockEnded:
    """The end of a clock after 30.5 seconds."""
    return ClockEnded(40.0, item, 30.54, is_pulled, outcome, Reception("flag", 0.9, "voice"))


@pytest.fixture(scope="module")
def parts() -> Parts:
    """The Merlow's shipped check."""
    return load_parts("merlow-reserve")


@pytest.fixture
def clean() -> Summary:
    """A run without findings that used 0.456 Ah."""
    whole = summarise(completed().machine.progress)
    return replace(whole, squawks=(), cautions=(), unable=(), clocks=(), ampere_hours=0.456)


@pytest.mark.parametrize(
    ("record", "words"),
    [
        (VOLTS, "21.4 volts"),
        (LAMPS, "left out"),
        (flag("left gyro", is_pulled=True, outcome=Outcome.CAUTION), "30.5 s"),
        (flag("left gyro", is_pulled=False, outcome=Outcome.SQUAWK), "stuck after 30.5 s"),
    ],
    ids=["reading", "words", "pulled", "stuck"],
)
def test_a_finding_is_told_with_its_value(record: AnswerRecorded | ClockEnded, words: str) -> None:
    """A number with its unit, a clock with its seconds, and whether its flag stuck."""
    assert value_of(record) == words


def test_a_clean_run_ends_with_what_it_took_from_the_battery(parts: Parts, clean: Summary) -> None:
    """One line, whatever was not found."""
    usable = parts.plan.usable_ampere_hours
    assert finding_lines(parts, clean) == [f"  battery  0.46 Ah used of {usable:.1f} Ah usable"]


def test_every_finding_has_a_line_of_its_kind(parts: Parts, clean: Summary) -> None:
    """Squawks first, with what hangs on the same breaker; nothing that was found is left out."""
    clock = flag("left attitude", is_pulled=True, outcome=Outcome.PASS)
    summary = replace(
        clean,
        squawks=(VOLTS, replace(LAMPS, outcome=Outcome.SQUAWK)),
        cautions=(LAMPS,),
        unable=("fire warning",),
        clocks=(clock,),
    )
    lines = finding_lines(parts, summary)
    told = [line for line in lines if not line.startswith(" " * 11)]
    assert told[:-1] == [
        "  squawk   volts on reserve: 21.4 volts",
        "  squawk   gear lamps: left out",
        "  caution  gear lamps: left out",
        "  not done fire warning",
        "  spin-up  left attitude: 30.5 s",
    ]
    shared = [line for line in lines if line.startswith(" " * 11)]
    assert shared
    assert all(" also feeds " in line for line in shared)


def lines_of(run: Run) -> list[str]:
    """What is printed of the run at its end."""
    parts = replace(load_parts("merlow-reserve"), check=danger.CHECK)
    return finding_lines(parts, summarise(run.machine.progress))


def test_stops_come_first_with_what_became_of_them() -> None:
    """One was remedied, one stood when the check was abandoned."""
    run = danger.begun().pick("area", "somebody there").pick("area", "clear").pick("reserve", "reserve")
    run.pick("heater on", "heater on").pick("lights dim", "lights dim").read("33")
    first, second, *_ = lines_of(run.say(Word.ABANDON).say(Word.AFFIRM))
    assert first == "  stop     area: somebody there, remedied after 2 s"
    assert second == "  stop     volts: 33 volts, NOT REMEDIED"


def test_a_stop_is_a_squawk_only_where_the_pilot_said_so() -> None:
    """With its value."""
    run = danger.begun().pick("area", "somebody there")
    assert not any(line.startswith("  squawk") for line in lines_of(run))
    assert "  squawk   area: somebody there" in lines_of(run.say(Word.SQUAWK))
