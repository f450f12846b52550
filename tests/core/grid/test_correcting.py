"""A correction with its answer in one breath: the same on record as in two, and as safe."""

from collections import Counter
from dataclasses import replace
from decimal import Decimal

from runner.core.ask.phrases_now import phrases_in_force
from runner.core.effect import Append
from runner.core.event import Answered, Channel
from runner.core.grid.machine import Machine
from runner.core.record.entry import AnswerRecorded, ConfirmationAsked, Entry, Reopened, Stopped
from runner.core.record.progress import Progress
from runner.core.state import State
from runner.language.catalogue import Word
from runner.language.meaning import Command, Corrected, Meaning, Picked, Value
from tests.core import danger, rich
from tests.core.sample import PLAN, kinds, powered


def value(number: str) -> Corrected:
    """A correction to the volts."""
    return Corrected(Value("volts", Decimal(number)))


def test_a_reading_is_corrected_in_one_breath() -> None:
    """Its old value is superseded, the new one read back behind its challenge."""
    run = powered().read("24.6").mean(value("24.1"), text="correction two four decimal one")
    assert kinds(run.new) == ["Reopened", "AnswerRecorded"]
    assert run.said == "Correction. VOLTS. Two four decimal one volts. RIGHT FLAG. LAMPS."
    assert run.answer.answer == "24.1"
    assert run.answer.origin.reception.text == "correction two four decimal one"
    assert [record.item for record in run.machine.progress.superseded] == ["volts"]


def test_a_named_answer_is_read_back_even_where_it_passes() -> None:
    """In one breath two things were heard, and neither was asked for: the pilot hears what became of them."""
    run = powered().read("24.6").pick("lamps", "dim").mean(Corrected(Picked("lamps", "both")))
    assert run.said == "Correction. LAMPS. Both. RADIO."
    run.say(Word.NEGATIVE)
    assert (run.new, run.said) == ([Reopened(run.at, "lamps")], "Correction. LAMPS.")


def test_a_squawk_is_told_as_one() -> None:
    """As in two steps."""
    run = powered().read("24.6").pick("lamps", "both").mean(Corrected(Picked("lamps", "left out")))
    assert run.said == "Correction. LAMPS. Squawk, left out. RADIO."


def test_a_value_out_of_its_band_is_still_to_be_confirmed() -> None:
    """Nothing goes on record of it before; the old value is taken back."""
    run = powered().read("24.6").mean(value("31"))
    assert kinds(run.new) == ["Reopened", "ConfirmationAsked"]
    assert (run.state, run.said) == (
        State.CONFIRMING,
        "Correction. VOLTS. Three one decimal zero volts is a squawk. Affirm or negative.",
    )
    assert run.say(Word.NEGATIVE).said == "VOLTS."
    assert "volts" not in run.machine.progress.answers


def test_a_value_that_waits_is_corrected_in_one_breath() -> None:
    """It was never taken."""
    run = powered().read("31").mean(value("24.1"))
    assert kinds(run.new) == ["ConfirmationDropped", "AnswerRecorded"]
    assert run.state is State.ASKING


def test_a_value_that_cannot_be_takes_nothing_back() -> None:
    """It is asked for again, and the old value stands."""
    run = powered().read("24.6").mean(value("99"))
    assert (run.new, run.said) == ([], "Say again. LAMPS.")
    assert run.machine.progress.answers["volts"].answer == "24.6"


def test_danger_stops_the_run_as_ever() -> None:
    """A correction to an answer of danger, and one that takes it back."""
    run = danger.begun().pick("area", "clear").mean(Corrected(Picked("area", "somebody there")))
    assert (kinds(run.new), run.state) == (["Reopened", "Stopped"], State.STOPPED)
    run.mean(Corrected(Picked("area", "clear")))
    assert kinds(run.new) == ["StopWithdrawn", "AnswerRecorded"]
    assert run.state is State.ASKING


def test_another_items_answer_behind_the_word_is_not_taken() -> None:
    """Only what was answered last is corrected; an older correction is stale."""
    run = powered().read("24.6")
    assert run.mean(Corrected(Picked("reserve", "dark"))).effects == ()
    turn = run.machine.turn
    run.pick("lamps", "both")
    assert run.mean(value("24.1"), turn=turn).effects == ()


def test_nothing_was_asked_so_no_time_is_told_and_no_haste() -> None:
    """The time from the end of another item's challenge says nothing."""
    run = powered().read("24.6").play().mean(value("24.1"), after=0.1)
    assert (run.answer.origin.response_seconds, run.answer.origin.is_hasty) == (None, False)


def test_one_breath_puts_the_same_on_record_as_two() -> None:
    """At every moment of random runs, whatever the word with an answer may mean there."""
    led_to: Counter[str] = Counter()

    def compare(progress: Progress) -> None:
        for meaning in corrections_of(progress):
            one = step(progress, meaning)
            two = step(progress, Command(Word.CORRECTION), meaning.answer)
            assert told(one) == told(two), meaning
            led_to[type(one[-1]).__name__] += 1

    for plan in (PLAN, danger.PLAN, rich.PLAN):
        for seed in range(2):
            rich.walk(plan, seed, 300, compare)
    assert min(led_to[kind.__name__] for kind in (AnswerRecorded, ConfirmationAsked, Stopped)) > 20


def corrections_of(progress: Progress) -> list[Corrected]:
    """Those in force; of values a few that mean different things."""
    found = dict.fromkeys(phrases_in_force(progress).meanings.values())
    few = {Decimal(number) for number in rich.READINGS}
    anew = [each for each in found if isinstance(each, Corrected)]
    return [each for each in anew if isinstance(each.answer, Picked) or each.answer.number in few]


def step(progress: Progress, *meanings: Meaning) -> list[Entry]:
    """What these put on record, one after the other, in a machine that is there already."""
    machine = Machine(progress.plan)
    machine.progress = progress
    entries: list[Entry] = []
    for meaning in meanings:
        _, effects = machine.handle(Answered(5.0, machine.turn, meaning, "x", 0.9, 5.0, Channel.VOICE))
        entries += [effect.entry for effect in effects if isinstance(effect, Append)]
    return entries


def told(entries: list[Entry]) -> list[Entry]:
    """Without the time that an answer took: in one breath nothing was asked."""
    return [
        replace(each, origin=replace(each.origin, response_seconds=None, is_hasty=False))
        if isinstance(each, AnswerRecorded | ConfirmationAsked | Stopped)
        else each
        for each in entries
    ]
