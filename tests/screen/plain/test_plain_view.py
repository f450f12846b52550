"""The plain text: complete, narrow enough, and free of verdicts on the airplane."""

from dataclasses import replace

import pytest

from runner.language.catalogue import SHOWN_ADVISORY, Outcome
from runner.screen import view_wording as wording
from runner.screen.full.palette import Tone, clock_tone, outcome_tone, view_tone
from runner.screen.keys import WORD_KEYS
from runner.screen.plain.plain_view import WIDTH, plain_lines
from runner.screen.view import View
from tests.screen.sample import (
    BRIEFING,
    COMPLETE,
    CONFIRMING,
    HOLDING,
    LEAVING,
    LOST,
    READING,
    STOPPED,
    UNDER_FLOOR,
    VIEWS,
    WAITING,
)

VIEW = pytest.mark.parametrize("name", VIEWS)


def joined(view: View) -> str:
    """The plain lines as one text without line ends."""
    return " ".join(line.strip() for line in plain_lines(view))


@VIEW
@pytest.mark.parametrize("width", [40, WIDTH, 120])
def test_no_line_is_wider_than_asked(name: str, width: int) -> None:
    """Narrow terminals wrap between words."""
    assert max(map(len, plain_lines(VIEWS[name], width))) <= width


@VIEW
def test_a_view_fits_a_small_terminal(name: str) -> None:
    """No more than 24 lines of 80, DESIGN's smallest screen."""
    assert len(plain_lines(VIEWS[name])) <= 24


@VIEW
def test_the_standing_caution_is_always_there(name: str) -> None:
    """The flight manual and the pilot in command decide."""
    assert plain_lines(VIEWS[name])[-1] == SHOWN_ADVISORY


@VIEW
def test_nothing_of_the_screen_is_lost(name: str) -> None:
    """State, airplane, answers with keys, clocks, battery, heard, said, counts, ear and words."""
    view = VIEWS[name]
    text = joined(view)
    facts = [f"[{wording.state_name(view)}]", view.registration, view.airplane, view.check, view.challenge]
    facts += [view.sound.said, view.band, *view.findings]
    facts += [*view.put_off, *view.briefing, f"{view.done} of {view.total} done", view.sound.noise]
    facts += [f"{wording.key_name(one)} {one.label}" for one in view.answers]
    facts += [f'{one.key} "{one.label}"' for clock in view.clocks for one in clock.answers]
    facts += [f"{key} {word}" for key, word in WORD_KEYS.items() if word in view.acting]
    assert [fact for fact in facts if fact not in text] == []


@VIEW
def test_no_view_calls_an_airplane_safe(name: str) -> None:
    """The tool advises, and never says that an airplane is safe."""
    words = joined(VIEWS[name]).lower()
    assert [word for word in ("safe", "airworthy", "good to go", "fit to fly") if word in words] == []


def test_every_colour_has_its_word() -> None:
    """What the screen shows in amber, red or blue is told in words too, so that no colour is needed."""
    for view in VIEWS.values():
        text = joined(view)
        if view_tone(view) is not Tone.NORMAL:
            assert f"[{wording.state_name(view)}]" in text
        for answer in view.answers:
            if outcome_tone(answer.outcome) is not Tone.PLAIN:
                assert f"{answer.label} ({answer.outcome})" in text
        for clock in view.clocks:
            if clock_tone(clock.state) is not Tone.PLAIN:
                assert clock.state in text
        if view.battery.is_warned:
            assert "CAUTION: past 10%" in text


def test_a_reading_view_reads_as_written_here() -> None:
    """The whole of it, so that a change of wording shows."""
    assert plain_lines(replace(READING, typed="24.")) == (
        "[answer] item 9 of 24: Reserve bus · reading · CRITICAL",
        "QQ-ML2, Merlow ML-2, an invented light twin jet: Merlow ML-2, reserve bus,",
        "  before the first flight of the day",
        "#############........................... 8 of 24 done",
        "> Reserve bus volts?",
        "number: 24._ volts   enter takes it, backspace mends it; steps of 0.1",
        'clock: left gyro 22 s running, advise at 60 s, limit 120 s; keys: g "left gyro,',
        '  flag pulled"',
        'clock: right gyro 71 s past advise, advise at 60 s, limit 120 s; keys: y "right',
        '  gyro, flag pulled"',
        "battery 0.42 of 17.0 Ah used, 2%, caution at 10%",
        'heard "reserve bus selected", 97% sure, taken',
        'said "Reserve bus volts?"',
        "answer by voice, quiet at -41 dBFS, ear: built-in",
        "words: S standby, G say again, B read back, R correction, F confirm, U unable, P",
        "  put off, W why, T note, Q abandon check, L speak slower, E words twice",
        SHOWN_ADVISORY,
    )


def test_a_question_stands_largest_and_names_its_item() -> None:
    """Both are there: what is asked and what about."""
    lines = plain_lines(CONFIRMING)
    assert "> 22.1 volts is a squawk: confirm?" in lines
    assert "item: Reserve bus volts?" in lines


def test_the_first_line_says_where_the_run_stands() -> None:
    """With the item's place where there is one."""
    assert plain_lines(HOLDING)[0] == "[standby] item 9 of 24: Reserve bus · state"
    assert plain_lines(WAITING)[0] == "[wait] Reserve bus"
    assert plain_lines(BRIEFING)[0] == "[cautions]"


def test_what_was_not_taken_says_why() -> None:
    """Roger does not answer."""
    assert 'heard "roger", 99% sure, not taken: roger does not answer' in plain_lines(WAITING)


def test_the_way_out_is_shown_where_there_is_one() -> None:
    """While abandoning is asked, and when the run is over."""
    assert "ctrl+q leave, the run stays open" in plain_lines(LEAVING)
    assert "q close" in plain_lines(COMPLETE)
    assert "ctrl+q leave, the run stays open" not in plain_lines(HOLDING)


def test_cautions_come_before_the_first_item() -> None:
    """Each in its own line, to be continued from."""
    lines = plain_lines(BRIEFING)
    assert sum(line.startswith("caution: ") for line in lines) == 3
    assert "keys: space continue" in lines


def test_a_refusal_is_shown() -> None:
    """Why the last key gave nothing."""
    assert 'not taken: "x" answers nothing here' in plain_lines(
        replace(READING, refusal='"x" answers nothing here')
    )


def test_a_run_that_is_over_lists_what_was_found() -> None:
    """Each squawk and caution with its value."""
    assert "squawk: Reserve bus volts: 22.1 volts" in plain_lines(COMPLETE)
    assert "caution: Call the right gyro's flag when it pulls: 74 s" in plain_lines(COMPLETE)


def test_what_was_keyed_was_not_heard() -> None:
    """And no share of certainty goes with it."""
    assert 'keyed "left out", taken' in plain_lines(LOST)


def test_a_caution_answer_is_called_one() -> None:
    """Not only squawks are marked."""
    answer = replace(LEAVING.answers[0], outcome=Outcome.CAUTION)
    assert "keys: a affirm (caution)" in plain_lines(replace(LEAVING, answers=(answer,)))


def test_a_stop_says_what_is_wrong_and_what_to_do() -> None:
    """In front of what is asked, with the word stop; its count stands with the others."""
    lines = plain_lines(STOPPED)
    at = lines.index("STOP: somebody there. Send them away, and wait until they stand clear of the")
    assert lines[at + 1 : at + 3] == ("  propeller's disc.", "> Area round the propeller?")
    assert "1 stop" in lines
    assert "STOP: 19.0 volts. Charge the battery before anything else." in plain_lines(UNDER_FLOOR)
    assert not any(line.startswith("STOP") for line in plain_lines(READING))


def test_what_has_failed_has_its_line() -> None:
    """And none while everything serves."""
    text = " ".join(" ".join(plain_lines(VIEWS["failed"])).split())
    assert "FAILED: ear: no answer for 5 s; note: OSError: [Errno 28] No space left on device" in text
    assert not any("FAILED" in line for line in plain_lines(READING))
