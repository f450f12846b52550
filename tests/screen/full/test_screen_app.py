"""The Textual app driven by keys, with views made by hand."""

import threading
from dataclasses import replace
from decimal import Decimal

import pytest
from textual.events import Key
from textual.widgets import Static

from runner.language.catalogue import Word
from runner.language.meaning import Command, Value
from runner.screen import view_wording as wording
from runner.screen.full.dial import Dial
from runner.screen.full.lettering import Size, letter
from runner.screen.full.screen_app import EyesoutApp
from runner.screen.keys import WORD_KEYS, Intent, KeyedAnswer, Left, NoteClosed, NoteWritten, keyed_answer
from runner.screen.view import View
from tests.screen.picture import text_of
from tests.screen.sample import (
    ASKING,
    COMPLETE,
    CONFIRMING,
    HOLDING,
    LAMPS,
    LEAVING,
    LEFT,
    NOTING,
    READING,
    STOPPED,
    STUCK,
    TYPING,
    VIEWS,
    WAITING,
)

SMALL, LARGE = (80, 24), (120, 34)
EVERY_SIZE = ((60, 20), SMALL, LARGE, (200, 55))
SIZES = pytest.mark.parametrize("size", EVERY_SIZE, ids=lambda size: f"{size[0]}x{size[1]}")


def app_at(view: View) -> tuple[EyesoutApp, list[Intent]]:
    """An app at this view, and what it will have handed on."""
    intents: list[Intent] = []
    return EyesoutApp(view, intents.append), intents


@pytest.mark.parametrize(
    ("view", "keys", "intent"),
    [
        *((ASKING, [answer.key], keyed_answer(answer, ASKING)) for answer in LAMPS),
        (
            READING,
            [*"24", "full_stop", "6", "enter"],
            KeyedAnswer(9, Value("volts", Decimal("24.6")), "24.6 volts"),
        ),
        (
            READING,
            [*"29", "backspace", "4", "enter"],
            KeyedAnswer(9, Value("volts", Decimal(24)), "24 volts"),
        ),
        (READING, ["g"], keyed_answer(LEFT.answers[0], READING)),
        (CONFIRMING, ["a"], keyed_answer(CONFIRMING.answers[0], CONFIRMING)),
        (CONFIRMING, [*"23", "enter"], KeyedAnswer(9, Value("volts", Decimal(23)), "23 volts")),
        (HOLDING, ["c"], keyed_answer(HOLDING.answers[0], HOLDING)),
        (WAITING, ["k"], keyed_answer(WAITING.clocks[0].answers[1], WAITING)),
        (NOTING, ["enter"], NoteClosed()),
        (ASKING, ["ctrl+q"], KeyedAnswer(9, Command(Word.ABANDON), "abandon check")),
        (ASKING, ["ctrl+c"], KeyedAnswer(9, Command(Word.ABANDON), "abandon check")),
        (LEAVING, ["ctrl+q"], Left()),
        (COMPLETE, ["q"], Left()),
    ],
)
async def test_keys_alone_hand_on_every_intent(view: View, keys: list[str], intent: Intent) -> None:
    """No pointer, no focus, no menu."""
    app, intents = app_at(view)
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press(*keys)
    assert intents == [intent]


async def test_every_standard_word_has_its_key() -> None:
    """All that may be said can be keyed; one of them counts at a stop alone."""
    app, intents = app_at(ASKING)
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press(*WORD_KEYS)
    everyday = [word for word in WORD_KEYS.values() if word is not Word.SQUAWK]
    assert intents == [KeyedAnswer(9, Command(word), word.value) for word in everyday]


@SIZES
@pytest.mark.parametrize("name", VIEWS)
async def test_the_screen_shows_what_matters_at_every_size(name: str, size: tuple[int, int]) -> None:
    """State, item, every answer's key and label, every clock and the standing caution are in the picture."""
    view = VIEWS[name]
    app, _ = app_at(view)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        text = text_of(app)
    facts = [wording.state_name(view).upper(), view.registration, wording.advisory(size[0] - 2)]
    facts += [clock.name for clock in view.clocks] + [clock.state for clock in view.clocks]
    facts += [answer.label for clock in view.clocks for answer in clock.answers]
    facts += [f"STOP: {view.stop}.", *view.remedy.split()] if view.stop else []
    facts += [word for line in (*view.briefing, *view.findings, *view.failures) for word in line.split()]
    facts += [*view.sound.said.split(), *view.band.split()]
    if size != EVERY_SIZE[0]:
        facts += [f"{view.battery.ampere_hours:.2f} of 17.0 Ah"]
    if size in (LARGE, EVERY_SIZE[-1]):
        facts += [f"{key} {word}" for key, word in WORD_KEYS.items() if word in view.acting]
        facts += [view.sound.noise, f"answer by {view.sound.channel}", f"{view.done} of {view.total} done"]
    assert [fact for fact in facts if fact not in text] == []


@SIZES
async def test_every_answer_is_on_the_screen_with_its_key(size: tuple[int, int]) -> None:
    """Squawks with their word."""
    app, _ = app_at(ASKING)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        text = text_of(app)
    for words in ("space", "both lit", "left out", "right out"):
        drawn = [letter(words, 200, 4, each) or (words,) for each in Size]
        lines = [line.strip() for line in text.splitlines()]
        assert words in text or any(
            all(any(row.strip() in line for line in lines) for row in one) for one in drawn
        )
    assert text.count("(squawk)") == 2


async def test_digits_appear_as_they_are_typed() -> None:
    """And go when the run moves on."""
    app, _ = app_at(READING)
    async with app.run_test(size=(80, 30)) as pilot:
        await pilot.press("2", "4")
        assert app.view.typed == "24"
        app.post_view(replace(ASKING, turn=10))
        await pilot.pause()
        assert app.view.typed == ""


async def test_a_key_that_answers_nothing_is_refused_on_the_screen() -> None:
    """Nothing is handed on, and the reason goes with the next key."""
    app, intents = app_at(ASKING)
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("x")
        assert 'NOT TAKEN: "x" answers nothing here' in text_of(app)
        await pilot.press("b")
        assert "NOT TAKEN" not in text_of(app)
    assert len(intents) == 1


async def test_a_double_tap_answers_one_item_on_the_screen() -> None:
    """By the times that the keys bring: the next item is there before the second tap, and stays open."""
    app, intents = app_at(ASKING)
    async with app.run_test(size=SMALL) as pilot:
        await app.on_key(_space(7.0))
        app.post_view(replace(ASKING, turn=10))
        await app.on_key(_space(7.25))
        await pilot.pause()
        assert "NOT TAKEN: too soon after the last answer" in text_of(app)
        assert intents == [keyed_answer(LAMPS[0], ASKING)]
        await app.on_key(_space(8.0))
    assert len(intents) == 2


def _space(at: float) -> Key:
    """The space bar, pressed at this time of the key events' clock."""
    key = Key("space", " ")
    key.time = at
    return key


async def test_a_terminal_too_small_says_so_and_takes_no_answer() -> None:
    """Nothing is answered unseen; leaving is possible, and in a larger terminal all goes on."""
    app, intents = app_at(STOPPED)
    async with app.run_test(size=(40, 9)) as pilot:
        await pilot.pause()
        assert "TERMINAL TOO SMALL" in text_of(app)
        await pilot.press("c", "S")
        assert intents == []
        await pilot.resize_terminal(*SMALL)
        await pilot.pause()
        assert "TOO SMALL" not in text_of(app)
        await pilot.press("c")
        assert intents == [keyed_answer(STOPPED.answers[0], STOPPED)]
        await pilot.resize_terminal(20, 5)
        await pilot.pause()
        await pilot.press("ctrl+q")
    assert intents[1:] == [KeyedAnswer(9, Command(Word.ABANDON), "abandon check")]


async def test_what_is_said_wraps_until_it_can_be_read() -> None:
    """A reason of four lines, in the smallest terminal and by its last word."""
    app, _ = app_at(VIEWS["why"])
    async with app.run_test(size=(60, 20)) as pilot:
        await pilot.pause()
        said = " ".join(text_of(app).split())
    assert VIEWS["why"].sound.said in said


async def test_words_of_which_nothing_would_come_are_not_shown() -> None:
    """They still have their keys: whoever presses one hears why."""
    app, intents = app_at(replace(ASKING, acting=(Word.STANDBY, Word.WHY)))
    async with app.run_test(size=LARGE) as pilot:
        await pilot.pause()
        text = text_of(app)
        await pilot.press("P")
    assert "S standby" in text
    assert "put off" not in text
    assert intents == [KeyedAnswer(9, Command(Word.PUT_OFF), "put off")]


async def test_a_question_mark_shows_the_keys_and_any_key_goes_back() -> None:
    """While they are shown nothing is answered unseen."""
    app, intents = app_at(ASKING)
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("?")
        assert "the expected answer, but where it says CRITICAL" in text_of(app)
        await pilot.press("space")
        assert intents == []
        assert " space   both lit" in text_of(app)
        await pilot.press("?", "ctrl+q")
    assert intents == [KeyedAnswer(9, Command(Word.ABANDON), "abandon check")]


async def test_a_note_is_typed_on_the_screen() -> None:
    """Letters that are keys elsewhere are letters here."""
    app, intents = app_at(TYPING)
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press(*"Left", "space", *"out?")
        assert app.view.typed == "Left out?"
        assert "Type the note; enter keeps it" in text_of(app)
        await pilot.press("enter")
    assert intents == [NoteWritten("Left out?")]


async def test_a_view_may_come_from_another_thread() -> None:
    """As it does in a session."""
    app, _ = app_at(ASKING)
    async with app.run_test(size=SMALL) as pilot:
        poster = threading.Thread(target=app.post_view, args=(WAITING,))
        poster.start()
        poster.join()
        await pilot.pause()
        assert "WAIT " in text_of(app)


async def test_a_view_posted_before_the_start_is_the_first_one_drawn() -> None:
    """Nothing is lost while the screen comes up."""
    app, _ = app_at(ASKING)
    app.post_view(HOLDING)
    async with app.run_test(size=SMALL) as pilot:
        await pilot.pause()
        assert "STANDBY" in text_of(app)


async def test_a_screen_can_be_closed_from_another_thread() -> None:
    """When the session ends first."""
    app, intents = app_at(ASKING)
    async with app.run_test(size=SMALL) as pilot:
        closer = threading.Thread(target=app.close)
        closer.start()
        closer.join()
        await pilot.pause()
        assert not app.is_running or app._exit
    assert intents == []


async def test_dials_come_and_go_with_their_clocks() -> None:
    """None left of a clock that ended."""
    app, _ = app_at(READING)
    async with app.run_test(size=LARGE) as pilot:
        await pilot.pause()
        assert len(app.query(Dial)) == 2
        app.post_view(replace(READING, clocks=(LEFT,)))
        await pilot.pause()
        assert len(app.query(Dial)) == 1
        app.post_view(ASKING)
        await pilot.pause()
        assert len(app.query(Dial)) == 0


async def test_three_clocks_still_fit_beside_a_large_item() -> None:
    """In few lines each, with bar and key."""
    third = replace(STUCK, name="standby gyro")
    app, _ = app_at(replace(READING, clocks=(*READING.clocks, third)))
    async with app.run_test(size=LARGE) as pilot:
        await pilot.pause()
        text = text_of(app)
    assert all(words in text for words in ("left gyro 22 s running", "standby gyro 121 s PAST LIMIT"))
    keys = (' g  "left gyro, flag pulled"', ' y  "right gyro, flag pulled"', ' k  "right gyro stuck"')
    assert all(words in text for words in keys)


async def test_the_same_view_draws_nothing_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """An idle screen costs nothing: only what has changed is drawn."""
    drawn: list[str] = []
    update = Static.update

    def counted(self: Static, content: object = "", *, layout: bool = True) -> None:
        """Note who draws, and draw."""
        drawn.append(self.id or "")
        update(self, content, layout=layout)  # type: ignore[arg-type]

    app, _ = app_at(READING)
    async with app.run_test(size=SMALL) as pilot:
        await pilot.pause()
        monkeypatch.setattr(Static, "update", counted)
        app.post_view(replace(READING, now=READING.now + 1))
        await pilot.pause()
        assert drawn == []
        app.post_view(replace(READING, sound=replace(READING.sound, dbfs=-20.0)))
        await pilot.pause()
        assert drawn == ["ear"]


async def test_the_light_turns_from_day_to_night_and_back() -> None:
    """By ctrl+t; the run hears nothing of it."""
    app, intents = app_at(ASKING)
    async with app.run_test(size=SMALL) as pilot:
        assert app.theme == "eyesout-day"
        await pilot.press("ctrl+t")
        assert app.theme == "eyesout-night"
        await pilot.press("ctrl+t")
        assert app.theme == "eyesout-day"
    assert intents == []


async def test_a_screen_is_drawn_anew_at_another_size() -> None:
    """From a small terminal to a large one."""
    app, _ = app_at(READING)
    async with app.run_test(size=SMALL) as pilot:
        await pilot.resize_terminal(*LARGE)
        await pilot.pause()
        assert "advise 60 s" in text_of(app)


async def test_without_colour_the_words_are_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    """NO_COLOR (no-color.org): nothing is lost."""
    coloured, _ = app_at(WAITING)
    async with coloured.run_test(size=SMALL) as pilot:
        await pilot.pause()
        expected = text_of(coloured)
    monkeypatch.setenv("NO_COLOR", "1")
    plain, _ = app_at(WAITING)
    async with plain.run_test(size=SMALL) as pilot:
        await pilot.pause()
        assert plain.no_color
        assert text_of(plain) == expected


async def test_a_challenge_that_letters_cannot_hold_is_shown_in_plain_words() -> None:
    """Too long, or with letters that have no form."""
    long = "Which navigation receiver is placarded essential on the pedestal behind the throttle quadrant"
    app, _ = app_at(replace(ASKING, challenge=long))
    async with app.run_test(size=SMALL) as pilot:
        await pilot.pause()
        assert "Which navigation receiver is placarded essential" in text_of(app)


async def test_digits_outlast_a_reminder_and_go_with_their_question() -> None:
    """The same reading is asked again in a new turn; a question about the value takes them away."""
    app, _ = app_at(READING)
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("2", "4")
        app.post_view(replace(READING, turn=10))
        await pilot.pause()
        assert app.view.typed == "24"
        app.post_view(replace(CONFIRMING, turn=11))
        await pilot.pause()
        assert app.view.typed == ""


async def test_leaving_twice_leaves_although_nothing_came_of_the_first_time() -> None:
    """The run may hang: the view stands still, and the second ctrl+q closes the screen."""
    for view, first in (
        (NOTING, NoteClosed()),
        (ASKING, KeyedAnswer(9, Command(Word.ABANDON), "abandon check")),
    ):
        app, intents = app_at(view)
        async with app.run_test(size=SMALL) as pilot:
            await pilot.press("ctrl+q", "ctrl+q")
        assert intents == [first, Left()]


async def test_leaving_is_asked_for_anew_at_the_next_question() -> None:
    """What the first press brought was another question."""
    app, intents = app_at(ASKING)
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("ctrl+q")
        app.post_view(replace(ASKING, turn=10, challenge="Gear lamps?"))
        await pilot.press("ctrl+q")
    assert [type(intent) for intent in intents] == [KeyedAnswer, KeyedAnswer]


async def test_leaving_twice_leaves_while_the_opening_goes_by() -> None:
    """Each breath is a turn of its own; the second ctrl+q is still the second."""
    app, intents = app_at(VIEWS["briefing"])
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("ctrl+q")
        app.post_view(replace(VIEWS["briefing"], turn=14))
        await pilot.press("ctrl+q")
    assert [type(intent) for intent in intents] == [KeyedAnswer, Left]


@SIZES
async def test_what_has_failed_stands_on_the_screen_with_its_reason(size: tuple[int, int]) -> None:
    """As a caution, with how answers are given."""
    app, _ = app_at(VIEWS["failed"])
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        text = text_of(app)
    assert "FAILED: ear: no answer for 5 s" in text
    assert "answer by keys" in text.lower()
