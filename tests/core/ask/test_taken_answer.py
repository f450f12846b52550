from decimal import Decimal

import pytest

from runner.core.event import Answered, Channel, PlaybackEnded
from runner.core.state import State
from runner.language.catalogue import Outcome, Word
from runner.language.meaning import Picked, Value
from tests.core.sample import before_restoration, begun, kinds, powered


def test_a_reading_in_its_band_is_recorded_and_read_back_in_full() -> None:
    """Numbers are read back digit by digit (ICAO Annex 10 Vol II 5.2.1.4; from memory: 5.2.1.4.4)."""
    run = powered().read("24.6")
    assert (run.answer.answer, run.answer.unit, run.answer.outcome) == ("24.6", "volts", Outcome.PASS)
    assert run.said.startswith("Two four decimal six volts.")


@pytest.mark.parametrize(
    ("number", "outcome"),
    [
        ("24.0", Outcome.PASS),
        ("28.0", Outcome.PASS),
        ("23.9", Outcome.CAUTION),
        ("22.0", Outcome.CAUTION),
        ("28.1", Outcome.CAUTION),
        ("29.0", Outcome.CAUTION),
        ("21.9", Outcome.SQUAWK),
        ("29.1", Outcome.SQUAWK),
    ],
)
def test_the_bands_hold_their_limits(number: str, outcome: Outcome) -> None:
    """Both limits belong to a band; what is outside of the pass band is confirmed first."""
    run = powered().read(number)
    if outcome is not Outcome.PASS:
        assert run.state is State.CONFIRMING
        assert run.said.endswith(f"is a {outcome}. Affirm or negative.")
        run.say(Word.AFFIRM)
    assert run.answer.outcome is outcome


def test_an_implausible_number_is_asked_again() -> None:
    """It cannot have been said; the parser never yields it, a key press might."""
    run = powered().read("99")
    assert (run.new, run.said) == ([], "Say again. VOLTS.")


def test_a_number_that_is_refused_is_a_miss() -> None:
    """The second miss in a row offers the keys, whichever way each of them came about."""
    assert powered().read("99").read("99").said == "Say again. VOLTS."
    assert powered().read("99").mishear().said == "Use the keys, or say again. VOLTS."
    assert powered().read("99").read("21.5").say(Word.NEGATIVE).mishear().said == "Say again. VOLTS."


def test_a_squawk_is_read_back_with_that_word_and_recorded_at_once() -> None:
    """A discrepancy that has a name needs no confirmation; a correction reopens it."""
    run = powered().read("24.6").pick("lamps", "left out")
    assert run.answer.outcome is Outcome.SQUAWK
    assert run.said.startswith("Squawk, left out.")


def test_a_caution_is_read_back_with_that_word() -> None:
    """A caution is heard as one."""
    assert powered().read("24.6").pick("lamps", "dim").said.startswith("Caution, dim.")


def test_a_named_pass_is_not_read_back() -> None:
    """The next challenge is the acknowledgment."""
    assert powered().read("24.6").pick("lamps", "both").said == "RADIO."


def test_an_answer_to_another_item_changes_nothing() -> None:
    """A second press of the key just used has nothing to answer."""
    run = powered()
    for meaning in (
        Picked("fit", "new"),
        Picked("volts", "24"),
        Picked("lamps", "both"),
        Value("lamps", Decimal(1)),
    ):
        run.mean(meaning)
        assert run.effects == ()
    run.read("24.6")
    assert run.mean(Picked("lamps", "no such label")).effects == ()


def test_the_response_is_timed_from_the_end_of_the_challenge_to_the_onset_of_speech() -> None:
    """Not to the end of recognition."""
    run = powered().play().read("24.6", after=3.25)
    assert run.answer.origin.response_seconds == pytest.approx(3.25, abs=1e-3)
    assert run.answer.origin.onset_at == run.at - 0.5
    assert not run.answer.origin.is_hasty


@pytest.mark.parametrize(("seconds", "is_hasty"), [(0.2, True), (0.999, True), (1.0, False), (1.5, False)])
def test_an_answer_in_less_than_a_second_after_a_look_is_marked(seconds: float, *, is_hasty: bool) -> None:
    """NTSB/AAR-89/04: the time between challenge and response was less than one second."""
    assert powered().play().read("24.6", after=seconds).answer.origin.is_hasty is is_hasty


def test_an_answer_before_the_challenge_has_ended_is_marked_and_has_no_time() -> None:
    """Nobody can have looked at what was not yet asked (after NTSB/AAR-89/04)."""
    answer = powered().read("24.6").answer
    assert answer.origin.response_seconds is None
    assert answer.origin.is_hasty


def test_an_onset_just_before_the_end_of_playback_has_no_time() -> None:
    """Speech that cuts the prompt short began before its end."""
    run = powered()
    onset_at = run.at + 1.0
    run.take(PlaybackEnded(onset_at + 0.1, run.machine.turn))
    run.take(
        Answered(
            onset_at + 1,
            run.machine.turn,
            Value("volts", Decimal("24.6")),
            "24.6",
            1.0,
            onset_at,
            Channel.KEYS,
        )
    )
    assert (run.answer.origin.response_seconds, run.answer.origin.reception.channel) == (None, "keys")


def test_an_item_that_needs_no_look_is_never_marked() -> None:
    """An action may be quick."""
    assert not begun().play().pick("fit", "new", after=0.1).answer.origin.is_hasty


def test_a_repeated_challenge_does_not_start_the_time_anew() -> None:
    """The pilot has had since the first challenge to look."""
    run = powered().play()
    run.at += 5
    run.mishear().play().read("24.6", after=0.5)
    assert run.answer.origin.response_seconds == pytest.approx(5.5, abs=1e-3)
    assert not run.answer.origin.is_hasty


def test_the_answer_to_the_turn_before_is_timed_by_that_turn() -> None:
    """A reminder came between the challenge and its answer."""
    run = powered().play()
    turn = run.machine.turn
    run.tick(40)
    run.mean(Value("volts", Decimal("24.6")), after=0.5, turn=turn)
    assert run.answer.origin.response_seconds == pytest.approx(40.5, abs=1e-3)


def test_a_confirmed_value_keeps_the_timing_of_its_own_answer() -> None:
    """The affirmation is not the answer."""
    run = powered().play().read("31", after=0.5)
    onset_at = run.at - 0.5
    run.play().say(Word.AFFIRM, after=9.0)
    answer = run.answer
    assert (answer.origin.onset_at, answer.answer, answer.origin.reception.text) == (onset_at, "31", "31")
    assert answer.origin.response_seconds == pytest.approx(0.5, abs=1e-3)
    assert answer.origin.is_hasty
    assert answer.outcome is Outcome.SQUAWK


def test_dead_that_shows_life_is_a_squawk_and_the_run_goes_on() -> None:
    """Life where there must be none is a discrepancy."""
    run = powered().read("24.6").pick("lamps", "both").pick("radio", "alive")
    assert run.answer.outcome is Outcome.SQUAWK
    assert run.state is State.WAITING


def test_the_call_completes_the_run() -> None:
    """Its answer and the end of the run are one step."""
    run = before_restoration().pick("normal", "normal").pick("call", "check complete")
    assert kinds(run.new) == ["AnswerRecorded", "RunCompleted"]
