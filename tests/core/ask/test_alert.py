import pytest

from runner.core.ask.alert import BATTERY, alert_words, alerts_in, still_counting
from runner.core.event import NoteEnded, PlaybackEnded
from runner.core.record.entry import BatteryWarned, ClockAdvised, Entry
from runner.core.state import State
from runner.language.catalogue import Word
from tests.core.danger import dimmed
from tests.core.sample import Run, begun, kinds, powered

WARNED = "Caution, battery: this check has used one zero percent."


def drained(run: Run) -> Run:
    """200 s on the reserve at 36 A are 2.0 of 20 Ah, the share at which it warns (arithmetic)."""
    run.pulled("left flag").pulled("right flag").play()
    return run


@pytest.mark.parametrize(
    ("word", "state"),
    [(None, State.ASKING), (Word.STANDBY, State.HOLDING), (Word.ABANDON, State.CONFIRMING)],
)
def test_the_battery_warns_whatever_the_run_is_doing(word: Word | None, state: State) -> None:
    """Asking, holding, confirming: it is spoken at once."""
    run = drained(powered())
    if word is not None:
        run.say(word)
    run.tick(200)
    assert run.state is state
    assert "BatteryWarned" in kinds(run.new)
    assert "Caution, battery: this check has used" in run.said


def test_the_battery_warns_at_a_stop_and_while_it_asks_back() -> None:
    """As everywhere."""
    run = dimmed().pulled("left flag").read("33").tick(250)
    assert (run.state, run.said.startswith("Caution, battery")) == (State.STOPPED, True)
    run = dimmed().pulled("left flag").read("19").tick(250)
    assert (run.state, run.said.startswith("Caution, battery")) == (State.RESTORING, True)


def test_a_clock_speaks_at_a_stop() -> None:
    """At its advise time and its limit."""
    run = dimmed().read("33").tick(31)
    assert run.said.startswith("Left gyro: ")
    assert run.state is State.STOPPED


def test_an_alert_that_was_cut_short_is_said_again_with_the_next_prompt() -> None:
    """A key was pressed into it; once it was heard out it is not repeated."""
    run = drained(powered()).tick(200)
    assert run.said.startswith("Caution, battery")
    run.read("24.6", after=0.1)
    assert run.said.startswith("Two four decimal six volts. Caution, battery: ")
    run.play().pick("lamps", "both")
    assert run.said == "RADIO."


def test_the_end_of_a_prompt_that_was_cut_short_does_not_count() -> None:
    """Its end is reported too, when the newer prompt has begun."""
    run = drained(powered()).tick(200)
    turn = run.machine.turn
    run.read("24.6", after=0.1).take(PlaybackEnded(run.at, turn)).pick("lamps", "both")
    assert "Caution, battery" in run.said


def test_an_alert_unheard_in_a_hold_is_said_once_more_on_continue() -> None:
    """And not where it was heard to its end."""
    run = drained(powered()).say(Word.STANDBY).tick(200).say(Word.CONTINUE)
    assert "Caution, battery" in run.said
    run = drained(powered()).say(Word.STANDBY).tick(200).play().say(Word.CONTINUE)
    assert "Caution, battery" not in run.said


def test_nothing_is_spoken_into_a_note_and_nothing_of_it_is_lost() -> None:
    """It comes right after the note."""
    run = drained(powered()).say(Word.NOTE).tick(200)
    assert (kinds(run.new), run.said) == (["BatteryWarned"], "")
    run.play().take(NoteEnded(run.at, "1.wav", 2.0))
    assert run.said.startswith("Noted. Caution, battery: this check has used")


def test_an_alert_reaches_the_last_word_of_a_run() -> None:
    """The pilot abandons into it."""
    run = drained(powered()).tick(200).say(Word.ABANDON).say(Word.AFFIRM).pick("normal", "normal")
    assert run.state is State.ABANDONED
    assert run.said.startswith("Caution, battery: this check has used")


def test_a_reopened_run_says_every_alert_that_still_counts() -> None:
    """Nobody knows what was heard before the program stopped."""
    run = powered().play().tick(300).play()
    assert kinds(run.new) == []
    said = run.restart().said
    assert "Left gyro: past the limit." in said
    assert "Caution, battery: this check has used" in said


def test_an_alert_of_a_clock_that_has_ended_is_dropped() -> None:
    """Its time is read back instead."""
    run = powered().tick(31)
    assert run.said.startswith("Left gyro: ")
    run.pulled("left flag", after=0.1)
    assert run.said == "Caution, left gyro, three two seconds. VOLTS."


def test_a_clock_that_is_passed_is_not_asked_twice_in_one_breath() -> None:
    """Its alert holds its challenge."""
    run = powered().tick(46)
    run.read("24.6", after=0.1)
    assert run.said.count("RIGHT FLAG") == 1


def test_alerts_are_named_by_their_clock_or_the_battery() -> None:
    """Once each, clocks first."""
    entries: list[Entry] = [
        BatteryWarned(1.0, 2.0),
        ClockAdvised(1.0, "left flag"),
        ClockAdvised(2.0, "left flag"),
    ]
    assert alerts_in(entries) == (BATTERY, "left flag")
    progress = powered().machine.progress
    assert still_counting(progress, (BATTERY, "left flag", "left flag")) == ("left flag", BATTERY)
    assert still_counting(begun().machine.progress, ("left flag",)) == ()
    assert (
        alert_words(progress, BATTERY, progress.positions[0].at + 200) + "." == WARNED[0].lower() + WARNED[1:]
    )
