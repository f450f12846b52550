import pytest

from runner.core.event import Answered, Channel
from runner.core.state import State
from runner.language.catalogue import Outcome, Word
from runner.language.meaning import Pulled
from tests.core.sample import Run, before_restoration, begun, kinds, powered


def test_power_on_starts_every_clock_at_the_onset_of_the_answer() -> None:
    """Times are taken at the onset of speech, not at the end of recognition."""
    run = powered()
    assert kinds(run.new) == ["AnswerRecorded", "ClockStarted", "ClockStarted"]
    clocks = run.machine.progress.clocks
    assert [clock.started_at for clock in clocks.values()] == [run.at - 0.5, run.at - 0.5]


def test_a_squawked_trigger_starts_no_clock() -> None:
    """Without power there is nothing to wait for: the spin-ups are left out, and the run can end."""
    run = begun().pick("fit", "new").pick("reserve", "dark")
    assert kinds(run.new) == ["AnswerRecorded"]
    run.read("24.6").pick("lamps", "both").pick("radio", "dead").pick("normal", "normal")
    assert run.pick("call", "check complete").state is State.COMPLETE


@pytest.mark.parametrize(
    ("seconds", "outcome"),
    [
        (12.0, Outcome.PASS),
        (30.0, Outcome.PASS),
        (30.001, Outcome.CAUTION),
        (60.0, Outcome.CAUTION),
        (60.001, Outcome.SQUAWK),
    ],
)
def test_the_time_is_judged_by_advise_and_limit(seconds: float, outcome: Outcome) -> None:
    """Both limits still count as in time, at the times of today's epoch too."""
    run = Run(at=1_700_000_000.0).start().say(Word.CONTINUE).pick("fit", "new").pick("reserve", "reserve")
    run.pulled("left flag", after=seconds - 0.5)
    assert run.clock_end.seconds == seconds
    assert run.clock_end.outcome is outcome


def test_a_flag_may_be_called_whatever_is_being_asked() -> None:
    """The question at hand is then asked again."""
    run = powered().pulled("left flag", after=14.5)
    assert run.said == "Left gyro, one five seconds. VOLTS."
    assert run.pulled("right flag", after=49.5).said.startswith("Caution, right gyro, six five seconds.")


def test_a_flag_that_pulls_after_the_limit_is_a_squawk_with_its_time() -> None:
    """It is said so."""
    run = powered().tick(70).pulled("left flag")
    assert run.said.startswith("Squawk, left gyro, seven three seconds.")


def test_stuck_counts_from_the_limit_on() -> None:
    """A gyro may take from a few seconds to a minute or two (common practice, no source)."""
    run = powered().tick(40)
    assert "left stuck" not in run.heard_phrases
    assert run.stuck("left flag").effects == ()
    run.tick(25)
    assert "left stuck" in run.heard_phrases
    run.stuck("left flag")
    assert (run.clock_end.outcome, run.clock_end.is_pulled) == (Outcome.SQUAWK, False)
    assert run.said.startswith("Squawk, left gyro, left stuck, seven zero seconds.")


def test_a_clock_ends_once() -> None:
    """The phrase is no longer in force."""
    run = powered().pulled("left flag")
    assert "left pulled" not in run.heard_phrases
    assert run.pulled("left flag").effects == ()


def test_a_phrase_from_before_power_on_ends_no_clock() -> None:
    """Its onset lies before the clock's start."""
    run = powered()
    early = run.at - 5.0
    run.take(
        Answered(run.at, run.machine.turn, Pulled("left flag"), "left pulled", 0.9, early, Channel.VOICE)
    )
    assert run.effects == ()


def test_no_clock_no_phrase() -> None:
    """Before power-on the phrases are not in force."""
    run = begun()
    assert "left pulled" not in run.heard_phrases
    assert run.pulled("left flag").effects == ()


def test_the_restoration_waits_for_every_clock() -> None:
    """Taking the power away would end what is being timed."""
    run = powered().read("24.6").pick("lamps", "both").pick("radio", "dead")
    assert run.state is State.WAITING
    assert run.said == "Waiting for left gyro and right gyro."
    run.pulled("left flag")
    assert (run.state, run.said) == (State.WAITING, "Left gyro, one zero seconds. Waiting for right gyro.")
    assert run.pulled("right flag").said == "Right gyro, one three seconds. NORMAL."


def test_a_correction_reopens_a_clock_from_its_own_start() -> None:
    """The clock runs on; the first end stays in the record."""
    run = powered().pulled("left flag", after=9.5).say(Word.CORRECTION)
    assert kinds(run.new) == ["Reopened"]
    assert run.said == "Correction, left gyro runs on. VOLTS."
    run.pulled("left flag", after=27.0)
    assert run.clock_end.seconds == pytest.approx(40.0, abs=1e-6)
    assert run.clock_end.outcome is Outcome.CAUTION
    assert len(run.machine.progress.superseded) == 1


def test_a_trigger_that_is_reopened_drops_its_clocks_and_starts_them_again() -> None:
    """The gyros get their power with the answer that stands."""
    run = powered().say(Word.CORRECTION)
    assert run.machine.progress.clocks == {}
    assert run.said == "Correction. RESERVE."
    run.pick("reserve", "reserve")
    assert [clock.started_at for clock in run.machine.progress.open_clocks] == [run.at - 0.5] * 2


def test_a_clock_runs_and_ends_in_a_hold() -> None:
    """The timer keeps running through a hold."""
    run = powered().say(Word.STANDBY)
    run.at += 20
    run.pulled("left flag", after=0.0)
    assert run.state is State.HOLDING
    assert run.clock_end.seconds == pytest.approx(23.0, abs=1e-6)
    assert run.said == "Left gyro, two three seconds. Say continue to go on."


def test_before_the_restoration_no_clock_is_open() -> None:
    """Of the sample run."""
    assert before_restoration().machine.progress.open_clocks == ()
