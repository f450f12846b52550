"""The shipped checks on the smallest screen: nothing that can be answered is cut off."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from runner.checklist.format.check import Check
from runner.checklist.format.check_load import load_check
from runner.core.ask.outlook import Possible
from runner.language.meaning import Picked, Pulled, Stuck
from runner.screen import view_wording as wording
from runner.screen.answer_key import keyed
from runner.screen.full.lettering import letter
from runner.screen.full.screen_app import EyesoutApp
from runner.screen.view import ClockView, View
from tests.screen.picture import text_of
from tests.screen.sample import ASKING

CHECKS = tuple(sorted((Path(__file__).parents[2] / "checklists").glob("*.yaml")))
EACH_CHECK = pytest.mark.parametrize("path", CHECKS, ids=[path.stem for path in CHECKS])
PANE_CELLS = 76
"""Cells across the challenge at 80 x 24."""


def clocks_of(check: Check, seconds: float) -> tuple[ClockView, ...]:
    """Two of the check's clocks, both running that long."""
    clocks = []
    for item, body in check.clocks():
        answers = [Possible(body.pulled, Pulled(item.name)), Possible(body.stuck, Stuck(item.name))]
        shown = keyed(answers if seconds >= body.limit_seconds else answers[:1])
        clocks.append(ClockView(body.gyro, seconds, body.advise_seconds, body.limit_seconds, shown))
    return tuple(clocks[:2])


def views_of(check: Check, seconds: float) -> Iterator[View]:
    """Each item with named answers, two clocks running beside it."""
    for number, item in enumerate(check.items, start=1):
        answers = keyed(Possible(one, Picked(item.name, one.label)) for one in item.responses)
        yield replace(
            ASKING,
            turn=number,
            check=check.title,
            section=check.section_of(item.name).title,
            number=number,
            total=len(check.items),
            challenge=item.challenge,
            is_critical=item.critical,
            answers=answers,
            clocks=clocks_of(check, seconds),
            failures=("ear: no answer for 5 s",),
        )


@EACH_CHECK
@pytest.mark.parametrize("seconds", [5.0, 1000.0], ids=["clocks running", "clocks past their limit"])
async def test_every_answer_is_on_the_smallest_screen(path: Path, seconds: float) -> None:
    """With its key, whether drawn flat, tall or in large letters."""
    check = load_check(path)
    app = EyesoutApp(ASKING, lambda _: None)
    missing = []
    async with app.run_test(size=(80, 24)) as pilot:
        for view in views_of(check, seconds):
            app.post_view(view)
            await pilot.pause()
            text = text_of(app)
            shown = [answer for clock in view.clocks for answer in clock.answers]
            labels = {answer.label for answer in view.answers} | {wording.flag(answer) for answer in shown}
            assert bool(shown) == bool([*check.clocks()])
            missing += [(view.challenge, label) for label in labels if not _is_drawn(label, text)]
    assert missing == []


def _is_drawn(label: str, text: str) -> bool:
    """In plain words or in large letters."""
    large = letter(label, PANE_CELLS, 4)
    return label in text or (large is not None and all(line.strip() in text for line in large))


@EACH_CHECK
def test_every_challenge_is_large_on_the_smallest_screen(path: Path) -> None:
    """In three lines of letters at most; two leave room for tall keys."""
    too_long = [
        item.challenge for item in load_check(path).items if letter(item.challenge, PANE_CELLS, 12) is None
    ]
    assert too_long == []
