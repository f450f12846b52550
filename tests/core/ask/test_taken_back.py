"""What a correction takes back: told at once in plain cases, and the same as trying it."""

from collections import Counter

from runner.core.ask.phrases_now import phrases_in_force
from runner.core.ask.taken_back import asked_after, corrected_item, correction
from runner.core.record.progress import Progress
from runner.language.catalogue import Word
from runner.language.meaning import Corrected, Picked
from tests.core import danger, rich
from tests.core.sample import PLAN, Run, begun, powered


def test_the_last_answer_may_be_corrected_in_one_breath() -> None:
    """The word with each answer of that item behind it is in force, beside the answers to the next."""
    run = powered().read("24.6").pick("lamps", "both")
    meanings = phrases_in_force(run.machine.progress).meanings
    assert meanings["correction left out"] == Corrected(Picked("lamps", "left out"))
    assert "correction dead" not in meanings


def test_a_readings_digits_are_in_force_behind_the_word() -> None:
    """Every way to say every plausible value."""
    phrases = phrases_in_force(powered().read("24.6").machine.progress).phrases
    assert {"correction two four decimal one", "correction twenty four point one volts"} <= set(phrases)


def test_before_the_first_answer_and_in_a_hold_nothing_follows_the_word() -> None:
    """There is no answer to correct, or nothing is asked."""
    for run in (begun(), powered().read("24.6").say(Word.STANDBY), powered().say(Word.NOTE)):
        phrases = phrases_in_force(run.machine.progress).phrases
        assert not [phrase for phrase in phrases if phrase.startswith("correction ")]


def test_a_clocks_end_is_not_corrected_in_one_breath() -> None:
    """It runs on, and its own phrase ends it."""
    run = powered().pulled("left flag")
    assert run.machine.progress.last_done == "left flag"
    assert corrected_item(run.machine.progress) is None


def test_an_item_that_would_not_be_asked_at_once_is_not_corrected_in_one_breath() -> None:
    """While clocks run, what moves the selector is not asked: the word alone leads to waiting for them."""
    run = powered().read("24.6").pick("lamps", "both").pick("radio", "dead").pulled("left flag")
    run.pulled("right flag").pick("normal", "normal")
    assert corrected_item(run.machine.progress) is not None
    run = powered().say(Word.CORRECTION)
    assert corrected_item(run.machine.progress) == run.plan.check.item("fit")


def test_the_quick_way_tells_the_same_as_trying_it() -> None:
    """At every moment of random runs: the item that a correction alone leads to."""
    seen: Counter[bool] = Counter()

    def compare(progress: Progress) -> None:
        entry, told = correction(progress, 0.0), corrected_item(progress)
        tried = None if entry is None else asked_after(progress, entry)
        if tried is not None and tried.body.clock is not None:
            tried = None
        assert told == tried
        seen[told is not None] += 1

    for plan in (PLAN, danger.PLAN, rich.PLAN):
        for seed in range(3):
            rich.walk(plan, seed, 700, compare)
    assert min(seen[True], seen[False]) > 500


def test_a_run_that_has_said_nothing_yet_corrects_as_well() -> None:
    """A record that is opened again knows what was answered last."""
    run = Run(entries=list(powered().read("24.6").entries))
    assert corrected_item(run.machine.progress) == run.plan.check.item("volts")
