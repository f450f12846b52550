from dataclasses import replace

from runner.core.record.danger_stop import stops_in
from runner.language.catalogue import Word
from tests.core import danger
from tests.core.sample import Run, finish


def assert_told(run: Run) -> None:
    """The stops of the record alone are those of the fold, but for what only the check can tell."""
    folded = (replace(stop, done=0, movers=()) for stop in run.machine.progress.stops)
    assert stops_in(run.entries) == tuple(folded)


def test_the_record_alone_tells_its_stops() -> None:
    """Remedied, written down, taken back, tried again, left standing."""
    assert_told(danger.begun().pick("area", "somebody there").say(Word.SQUAWK).pick("area", "clear"))
    assert_told(danger.begun().pick("area", "somebody there").say(Word.CORRECTION))
    assert_told(danger.begun().pick("area", "somebody there").pick("area", "somebody there"))
    run = danger.dimmed().read("19").pick("lights bright", "lights bright").pick("heater off", "heater off")
    assert_told(run.pick("normal", "normal").say(Word.CONTINUE))
    assert_told(finish(run))


def test_a_stop_says_what_was_answered_with_its_unit() -> None:
    """As it is listed."""
    (volts,) = danger.dimmed().read("19.5").machine.progress.stops
    (area,) = danger.begun().pick("area", "somebody there").machine.progress.stops
    assert (volts.what, area.what) == ("19.5 volts", "somebody there")


def test_a_stop_after_one_that_was_remedied_is_another() -> None:
    """Somebody walks back to the propeller after a correction."""
    run = danger.begun().pick("area", "somebody there").pick("area", "clear").say(Word.CORRECTION)
    run.pick("area", "somebody there")
    first, second = run.machine.progress.stops
    assert (first.is_over, second.is_in_force) == (True, True)
    assert run.machine.progress.stop == second
