"""The shipped checks by keys alone, from the first caution to the completion call."""

from itertools import pairwise
from pathlib import Path

import pytest

from runner.checklist.format.check import Check, Item
from runner.checklist.kind.reading import Reading
from runner.checklist.kind.spin_up import SpinUp
from runner.core.event import Answered, Channel, PlaybackEnded, Started
from runner.core.grid.machine import Machine
from runner.core.state import FINAL, State
from runner.language.catalogue import Outcome
from runner.screen.build import build_view
from runner.screen.keys import EXPECTED_KEY, KeyedAnswer, enter_number, key_to_intent
from runner.screen.view import SoundView, View
from runner.session.parts import load_parts

CHECKS = tuple(sorted(path.stem for path in (Path(__file__).parents[2] / "checklists").glob("*.yaml")))
EACH_CHECK = pytest.mark.parametrize("name", CHECKS)
SECONDS_A_KEY = 2.0


class Hand:
    """Presses keys at the views of a run, and counts them."""

    def __init__(self, name: str) -> None:
        parts = load_parts(name)
        self.check = parts.check
        self.machine = Machine(parts.plan)
        self.at = 1_790_000_000.0
        self.presses: list[tuple[View, str]] = []
        self.machine.handle(Started(self.at))

    def view(self) -> View:
        """What the screen shows now."""
        return build_view(self.machine, self.at, airplane="", registration="", sound=SoundView())

    def press(self, key: str) -> None:
        """One key, which must answer something."""
        view = self.view()
        self.at += SECONDS_A_KEY
        intent = key_to_intent(key, view)
        assert isinstance(intent, KeyedAnswer), (view.challenge, key, intent)
        self.presses.append((view, key))
        self.machine.handle(
            Answered(self.at, intent.turn, intent.meaning, intent.text, 1.0, self.at, Channel.KEYS)
        )

    def passing_key(self, view: View) -> str:
        """Space where that answers, else the letter of the first answer that passes; a flag when it waits."""
        if view.state is State.WAITING:
            return view.clocks[0].answers[0].key
        passing = next(one for one in view.answers if one.outcome in (None, Outcome.PASS))
        return EXPECTED_KEY if passing.is_expected else passing.key

    def run(self) -> None:
        """Everything as it should be; readings are typed, which the count leaves out."""
        while self.machine.state not in FINAL:
            view = self.view()
            if view.gauge is not None:
                self._read(view)
            else:
                self.press(self.passing_key(view))

    def _read(self, view: View) -> None:
        assert view.gauge is not None
        body = self.check.item(view.gauge.item).body
        assert isinstance(body, Reading)
        middle = (body.pass_band.low + body.pass_band.high) / 2
        text = str(middle.quantize(body.resolution))
        self.at += SECONDS_A_KEY
        intent = enter_number(text, view.gauge, view.turn)
        assert isinstance(intent, KeyedAnswer)
        self.machine.handle(
            Answered(self.at, intent.turn, intent.meaning, intent.text, 1.0, self.at, Channel.KEYS)
        )


def answered_items(machine: Machine, check: Check) -> list[Item]:
    """Items that this way through the check has asked, but for readings."""
    done = machine.progress.done
    return [item for item in check.items if item.name in done and not isinstance(item.body, Reading)]


@EACH_CHECK
def test_a_whole_run_takes_one_key_an_item(name: str) -> None:
    """And one for the cautions; only readings are typed."""
    hand = Hand(name)
    hand.run()
    assert hand.machine.state is State.COMPLETE
    assert len(hand.presses) == 1 + len(answered_items(hand.machine, hand.check))


@EACH_CHECK
def test_space_passes_every_item_but_the_critical_ones(name: str) -> None:
    """Where several answers pass none is expected: each has its letter. Flags have letters of their own."""
    hand = Hand(name)
    hand.run()
    for view, key in hand.presses:
        passing = [one for one in view.answers if one.outcome is Outcome.PASS]
        is_space = view.state is State.BRIEFING or (len(passing) == 1 and not view.is_critical)
        assert (key == EXPECTED_KEY) is is_space, view.challenge
    assert any(key == EXPECTED_KEY for _, key in hand.presses)


@EACH_CHECK
def test_no_habit_passes_a_critical_item(name: str) -> None:
    """Its letter means something else than that of the item before, or nothing was passed with it there."""
    hand = Hand(name)
    hand.run()
    for (_, before), (view, key) in pairwise(hand.presses):
        if view.is_critical:
            assert key not in (before, EXPECTED_KEY), view.challenge


@EACH_CHECK
def test_from_item_to_item_a_letter_keeps_its_answer(name: str) -> None:
    """The same words have the same letter at neighbouring items, and a letter never changes its words there.

    What passes a critical item must have another (see above); a reading between two breaks the habit.
    """
    asked = [item for item in load_parts(name).check.items if not isinstance(item.body, SpinUp)]
    for before, after in pairwise(asked):
        earlier = {one.label: one.key for one in before.responses}
        later = {one.label: one.key for one in after.responses}
        free = {one.label for one in after.responses if after.critical and one.outcome is Outcome.PASS}
        for label in (earlier.keys() & later.keys()) - free:
            assert earlier[label] == later[label], (before.name, after.name, label)
        words = {key: label for label, key in earlier.items()}
        for label, key in later.items():
            assert words.get(key, label) == label, (before.name, after.name, key)


@EACH_CHECK
def test_a_key_at_the_first_picture_counts_when_the_opening_has_gone_by(name: str) -> None:
    """By keys alone its breaths end at once: a picture that is drawn late shows the first of them."""
    hand = Hand(name)
    first = hand.view()
    breaths = 0
    while hand.machine.rest:
        hand.machine.handle(PlaybackEnded(hand.at, hand.machine.turn))
        breaths += 1
    assert breaths > 1
    intent = key_to_intent("ctrl+q", first)
    assert isinstance(intent, KeyedAnswer)
    hand.machine.handle(
        Answered(hand.at, intent.turn, intent.meaning, intent.text, 1.0, hand.at, Channel.KEYS)
    )
    assert hand.machine.state is State.CONFIRMING
