from runner.core.ask.agenda import item_at_hand
from runner.core.ask.phrases_now import phrases_in_force
from runner.core.state import State
from runner.language.catalogue import Word
from runner.language.meaning import Command, Pulled, Stuck, Value
from tests.core.sample import Run, begun, completed, powered


def test_roger_is_in_force_so_that_it_can_be_refused() -> None:
    """It answers nothing (ICAO Annex 10 Vol II 5.2.1.5.8)."""
    assert phrases_in_force(begun().machine.progress).meanings["roger"] == Command(Word.ROGER)
    assert phrases_in_force(Run().start().machine.progress).meanings["roger"] == Command(Word.ROGER)


def test_a_flags_phrase_is_in_force_from_power_on_until_said() -> None:
    """Whatever item is asked."""
    run = powered()
    assert phrases_in_force(run.machine.progress).meanings["right pulled"] == Pulled("right flag")
    run.read("24.6").pick("lamps", "both")
    assert "right pulled" in run.heard_phrases
    assert "right pulled" not in run.pulled("right flag").heard_phrases


def test_stuck_is_in_force_from_the_limit_on() -> None:
    """Of the clock that has passed it."""
    meanings = phrases_in_force(powered().tick(61).machine.progress).meanings
    assert meanings["left stuck"] == Stuck("left flag")
    assert "right stuck" not in meanings


def test_a_new_number_is_in_force_while_one_waits_for_confirmation() -> None:
    """It replaces the one that waits."""
    progress = powered().read("31").machine.progress
    assert any(isinstance(meaning, Value) for meaning in phrases_in_force(progress).meanings.values())
    item = item_at_hand(progress)
    assert item is not None
    assert item.name == "volts"


def test_no_item_is_at_hand_while_the_abandonment_is_asked_about() -> None:
    """Only affirm and negative, words and clocks."""
    run = begun().say(Word.ABANDON)
    assert item_at_hand(run.machine.progress) is None
    assert "new" not in run.heard_phrases
    assert "affirm" in run.heard_phrases


def test_nothing_is_in_force_before_the_start_and_after_the_end() -> None:
    """The ear has nothing to expect."""
    assert phrases_in_force(Run().machine.progress).phrases == ()
    run = completed()
    assert run.state is State.COMPLETE
    assert phrases_in_force(run.machine.progress).phrases == ()
