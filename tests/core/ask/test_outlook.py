from runner.core.ask.outlook import outlook_of
from runner.core.state import State
from runner.language.catalogue import Word
from runner.language.meaning import Picked
from tests.core.sample import VOLTS, Run, begun, completed, powered


def test_the_outlook_of_an_item() -> None:
    """What a screen needs."""
    outlook = outlook_of(begun().machine.progress)
    assert outlook.item is not None
    assert outlook.section is not None
    assert (outlook.state, outlook.item.name, outlook.section.title) == (State.ASKING, "fit", "Power")
    assert (outlook.number, outlook.done, outlook.total) == (1, 0, 10)
    assert [(each.response.label, each.meaning) for each in outlook.answers] == [
        ("new", Picked("fit", "new")),
        ("old", Picked("fit", "old")),
    ]
    assert (outlook.question, outlook.gauge, outlook.clocks) == ("FIT", None, ())
    assert outlook.in_force.meanings["new"] == Picked("fit", "new")


def test_the_outlook_of_a_reading_with_clocks() -> None:
    """A gauge to be read, and what ends each clock."""
    run = powered()
    outlook = outlook_of(run.machine.progress)
    assert (outlook.gauge, outlook.answers) == (VOLTS, ())
    assert [clock.body.gyro for clock in outlook.clocks] == ["left gyro", "right gyro"]
    assert [len(clock.answers) for clock in outlook.clocks] == [1, 1]
    assert (outlook.done, outlook.total) == (2, 9)
    late = outlook_of(run.tick(65).machine.progress)
    assert [len(clock.answers) for clock in late.clocks] == [2, 1]


def test_the_outlook_counts_discrepancies_and_what_is_put_off() -> None:
    """A late gyro is one of them."""
    run = (
        powered()
        .tick(70)
        .pulled("left flag")
        .read("31")
        .say(Word.AFFIRM)
        .say(Word.PUT_OFF)
        .pick("radio", "dead")
    )
    outlook = outlook_of(run.machine.progress)
    assert (outlook.squawks, outlook.cautions) == (2, 0)
    assert [item.name for item in outlook.put_off] == ["lamps"]


def test_the_outlook_of_a_confirmation_and_of_a_hold() -> None:
    """The reading at hand; the item that is held, without answers."""
    run = powered().read("31")
    outlook = outlook_of(run.machine.progress)
    assert (
        outlook.question == "three one volts is a squawk. Affirm or negative"
        or outlook.question.startswith("three one")
    )
    assert outlook.gauge == VOLTS
    held = outlook_of(run.say(Word.STANDBY).machine.progress)
    assert held.item is not None
    assert (held.item.name, held.gauge, held.answers) == ("volts", None, ())


def test_the_outlook_before_the_start_and_after_the_end() -> None:
    """Nothing is in force."""
    ready = outlook_of(Run().machine.progress)
    assert (ready.state, ready.question, ready.in_force.phrases) == (State.READY, "", ())
    end = outlook_of(completed().machine.progress)
    assert (end.item, end.section, end.number, end.in_force.phrases) == (None, None, 0, ())
    assert end.done == end.total == 9
