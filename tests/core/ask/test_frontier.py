from collections.abc import Callable, Iterator
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runner.checklist.format.check import Condition, Item
from runner.checklist.kind.named_state import NamedState
from runner.checklist.kind.spin_up import SpinUp
from runner.core.ask.agenda import (
    applies,
    carry_on,
    frontier_of,
    is_barrier,
    is_left_out,
    item_in_force,
    power_on,
    spin_up_of,
    state_of,
)
from runner.core.ask.outlook import outlook_of
from runner.core.event import Answered, Channel, Event, NoteEnded, Started, Ticked
from runner.core.grid.machine import Machine
from runner.core.plan import Plan
from runner.core.record.progress import Progress
from runner.core.record.spin_up_clock import SpinUpClock
from runner.core.state import FINAL, State
from runner.language.catalogue import Outcome, Word
from runner.language.meaning import Command, Picked
from tests.core.calls import counted
from tests.core.sample import CALL, Run, begun, finish, item, meaning_by_the_book, plan_of, powered, response
from tests.core.test_machine_rules import meanings_of, plans


def is_denied(progress: Progress, each: Item) -> bool:
    """By going up the whole chain that the item hangs on."""
    above = progress.plan.check.item
    if each.when is not None:
        answer = progress.answers.get(each.when.item)
        if not progress.is_settled(each.when.item):
            if is_denied(progress, above(each.when.item)):
                return True
        elif answer is None or answer.answer not in each.when.labels:
            return True
    if not isinstance(each.body, SpinUp):
        return False
    if progress.is_settled(each.body.starts_on):
        return power_on(progress, each.body) is None
    return is_denied(progress, above(each.body.starts_on))


def waiting(progress: Progress) -> Iterator[Item]:
    """By going through the whole check."""
    for each in progress.plan.check.items:
        is_in_turn = not isinstance(each.body, SpinUp) and not progress.is_settled(each.name)
        if is_in_turn and applies(progress, each):
            yield each


def assert_all_is_known_rightly(progress: Progress) -> None:
    """What was handed on is what a progress without a memory finds, and what the whole check tells."""
    bare = replace(progress)
    assert bare.known == {}
    assert frontier_of(progress) == frontier_of(bare)
    assert (progress.moved, progress.moved_since) == (bare.moved, bare.moved_since)
    assert (progress.open_clocks, progress.stop) == (bare.open_clocks, bare.stop)
    assert (state_of(progress), item_in_force(progress)) == (state_of(bare), item_in_force(bare))
    items, frontier = progress.plan.check.items, frontier_of(progress)
    assert frontier.done == sum(progress.is_settled(each.name) for each in items)
    assert frontier.left_out == {each.name for each in items if is_denied(progress, each)}
    next_one = (each for each in waiting(progress) if is_barrier(each) or each.name not in progress.put_off)
    assert items[frontier.first_waiting : frontier.first_waiting + 1] == tuple(next_one)[:1]
    outcomes = [answer.outcome for answer in progress.answers.values()]
    outcomes += [clock.ended.outcome for clock in progress.clocks.values() if clock.ended]
    assert frontier.squawks == outcomes.count(Outcome.SQUAWK)
    assert frontier.cautions == outcomes.count(Outcome.CAUTION)


def event_of(machine: Machine, luck: Random, at: float) -> Event:
    """By the book every other time, else anything that can be said, or time that goes by."""
    if machine.state is State.READY:
        return Started(at)
    if machine.state is State.NOTING:
        return NoteEnded(at, "clip.wav", 1.0)
    kind = luck.random()
    if kind < 0.1:
        return luck.choice((Started(at), Ticked(at)))
    by_the_book = meaning_by_the_book(machine.progress)
    meaning = by_the_book if kind < 0.5 else luck.choice(meanings_of(machine.progress.plan))
    if 0.5 < kind < 0.65:
        meaning = Command(luck.choice((Word.CORRECTION, Word.PUT_OFF, Word.UNABLE)))
    return Answered(at, machine.turn, meaning, "said", 0.9, at - 0.5, Channel.VOICE)


@settings(max_examples=150)
@given(plans(), st.randoms(use_true_random=False))
def test_what_is_handed_on_from_entry_to_entry_is_what_the_whole_record_tells(
    plan: Plan, luck: Random
) -> None:
    """Corrections, items put off, gyros, moves and stops, in any order: nothing known is out of date."""
    machine, at = Machine(plan), 1000.0
    for _ in range(60):
        if machine.state in FINAL:
            break
        at += luck.choice((1.0, 20.0))
        machine.handle(event_of(machine, luck, at))
        assert_all_is_known_rightly(machine.progress)


def test_one_step_works_out_the_state_once_and_the_item_in_force_once() -> None:
    """An answer, a clock that starts, a selector that moves, a value that waits, a flag: each by itself.

    Twice where a correction would reopen what moved the selector, or drop a value that waits.
    """
    run = begun()
    steps: tuple[Callable[[], Run], ...] = (
        lambda: run.pick("fit", "new"),
        lambda: run.pick("reserve", "reserve"),
        lambda: run.read("22.5"),
        lambda: run.say(Word.AFFIRM),
        lambda: run.pulled("left flag"),
        lambda: run.say(Word.STANDBY),
        lambda: run.say(Word.CONTINUE),
        lambda: run.pick("lamps", "dim"),
        lambda: run.say(Word.CORRECTION),
        lambda: run.pick("lamps", "both"),
        lambda: run.pick("radio", "dead"),
        lambda: run.pulled("right flag"),
        lambda: run.pick("normal", "normal"),
        lambda: run.pick("call", "check complete"),
    )
    handle = run.machine.handle
    counts: list[dict[str, int]] = []

    def handle_counted(event: Event) -> object:
        with counted(state_of, item_in_force) as calls:
            step = handle(event)
        counts.append(dict(calls))
        return step

    run.machine.handle = handle_counted  # type: ignore[method-assign,assignment] # counts what the step itself does
    for step in steps:
        step()
    assert run.is_finished
    assert len(counts) == len(steps)
    assert max(each.get("state_of", 0) for each in counts) <= 2
    found = [each.get("item_in_force", 0) for each in counts]
    assert max(found) <= 2
    assert sum(each == 2 for each in found) <= 4


def test_an_answer_touches_no_more_items_in_a_long_check_than_in_a_short_one() -> None:
    """In a check of 40 and of 400 items a step looks the same number of times whether an item applies."""

    def most(count: int) -> int:
        plain = NamedState((response("good"), response("bad", Outcome.SQUAWK)))
        chain = [
            item(f"{number}", plain, when=Condition(f"{number - 1}", ("good",)) if number else None)
            for number in range(count)
        ]
        machine = Machine(plan_of(*chain))
        machine.handle(Started(1000.0))
        machine.handle(Answered(1001.0, machine.turn, Command(Word.CONTINUE), "", 1.0, 1001.0, Channel.KEYS))
        asked: list[int] = []
        for number in range(count):
            meaning, at = Picked(f"{number}", "good"), 1002.0 + number
            with counted(applies, Progress.is_settled, Progress.is_done, is_left_out) as calls:
                machine.handle(Answered(at, machine.turn, meaning, "", 1.0, at, Channel.KEYS))
                outlook_of(machine.progress)
            asked.append(sum(calls.values()))
        assert item_in_force(machine.progress) == CALL
        return max(asked)

    assert most(400) == most(40)


def test_what_hangs_on_a_refused_choice_is_left_out_down_a_long_chain() -> None:
    """Two thousand items hang each on the one above: one answer rules out all of them, a correction none."""
    plain = NamedState((response("good"), response("bad", Outcome.SQUAWK)))
    chain = [
        item(f"{number}", plain, when=Condition(f"{number - 1}", ("good",)) if number else None)
        for number in range(2000)
    ]
    machine = Machine(plan_of(*chain))
    machine.handle(Started(1000.0))
    for at, meaning in ((1001.0, Command(Word.CONTINUE)), (1002.0, Picked("0", "bad"))):
        machine.handle(Answered(at, machine.turn, meaning, "", 1.0, at, Channel.KEYS))
    assert len(frontier_of(machine.progress).left_out) == 1999
    assert item_in_force(machine.progress) == CALL
    correction = Command(Word.CORRECTION)
    machine.handle(Answered(1003.0, machine.turn, correction, "", 1.0, 1003.0, Channel.KEYS))
    assert frontier_of(machine.progress).left_out == frozenset()
    assert item_in_force(machine.progress) == chain[0]


def test_a_progress_made_by_hand_is_worked_out_from_its_fields() -> None:
    """Only entries hand anything on: `replace` gives a progress that knows nothing yet."""
    run = powered()
    reopened = replace(run.machine.progress, answers={})
    assert frontier_of(reopened).done == 0
    assert item_in_force(reopened) == run.plan.check.items[0]
    assert frontier_of(run.machine.progress).done == 2
    finish(run)


def test_nothing_is_handed_on_where_it_may_have_changed() -> None:
    """Clocks that differ are looked at anew."""
    before = powered().machine.progress
    assert len(before.open_clocks) == 2
    after = replace(before, clocks={})
    carry_on(before, after)
    assert after.open_clocks == ()


def test_no_clock_belongs_to_an_item_that_is_no_spin_up() -> None:
    """A clock of another check is not taken for one of this."""
    with pytest.raises(TypeError, match='"fit" is no spin-up'):
        spin_up_of(begun().machine.progress, SpinUpClock("fit", 1000.0))
