from dataclasses import replace

from runner.command.closing import finding_lines
from runner.core.summary import summarise
from runner.language.meaning import Word
from runner.session.parts import load_parts
from tests.core import danger
from tests.core.sample import Run


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
