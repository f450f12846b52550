"""The plain terminal: lines in, views out."""

import io
import os
import threading
from dataclasses import replace

from runner.command.terminal import Screen
from runner.language.catalogue import SHOWN_ADVISORY
from runner.screen.full.screen_app import EyesoutApp
from runner.screen.keys import Intent, KeyedAnswer, Left, keyed_answer
from runner.screen.plain.console import PROMPT, Console
from tests.screen.sample import ASKING, COMPLETE, LAMPS, LEFT, READING


def console(lines: str = "") -> tuple[Console, list[Intent], io.StringIO]:
    """A console at the asking view, with these lines to come, what it hands on, and what it prints."""
    intents: list[Intent] = []
    written = io.StringIO()
    return Console(ASKING, intents.append, io.StringIO(lines), written), intents, written


def test_lines_become_intents_until_the_input_ends() -> None:
    """The end of the input leaves the run open."""
    ours, intents, written = console("b\nnonsense\nsay again\n")
    ours.run()
    assert intents[0] == keyed_answer(LAMPS[0], ASKING)
    assert isinstance(intents[1], KeyedAnswer)
    assert intents[2:] == [Left()]
    assert 'not taken: "nonsense" answers nothing here' in written.getvalue()


def test_the_view_keeps_to_the_terminal_s_width() -> None:
    """Narrow or wide."""
    written = io.StringIO()
    Console(ASKING, lambda _: None, io.StringIO("?\n"), written, 40).run()
    lines = [line.removeprefix(PROMPT) for line in written.getvalue().splitlines()]
    assert max(map(len, lines)) <= 40


def test_a_question_mark_prints_the_keys() -> None:
    """Nothing is handed on for it."""
    ours, intents, written = console("?\n")
    ours.run()
    assert intents == [Left()]
    assert "space: the expected answer, but where it says CRITICAL" in written.getvalue()


def test_the_first_view_is_printed_before_the_first_line_is_read() -> None:
    """A pipe shows what it answers to."""
    ours, _, written = console()
    ours.run()
    assert SHOWN_ADVISORY in written.getvalue()
    assert written.getvalue().count("[answer]") == 1


def test_moving_figures_alone_print_nothing() -> None:
    """Neither time, nor level, nor a running clock's seconds, nor ampere-hours short of the warning."""
    ours, _, written = console()
    ours.post_view(replace(READING, turn=9))
    before = written.getvalue()
    later = replace(LEFT, elapsed_seconds=30.0)
    moved = replace(
        READING,
        now=READING.now + 8,
        clocks=(later, READING.clocks[1]),
        battery=replace(READING.battery, ampere_hours=0.5),
        sound=replace(READING.sound, dbfs=-30.0),
    )
    ours.post_view(moved)
    assert written.getvalue() == before


def test_a_clock_that_passes_its_advise_time_prints() -> None:
    """Where it stands is news."""
    ours, _, written = console()
    ours.post_view(READING)
    ours.post_view(replace(READING, clocks=(replace(LEFT, elapsed_seconds=60.0), READING.clocks[1])))
    assert "left gyro 60 s past advise" in written.getvalue()


def test_a_closed_console_takes_no_more_answers() -> None:
    """It ends without a further line, and says why."""
    ours, intents, written = console("b\n")
    ours.close()
    ours.run()
    assert intents == []
    assert "the run has stopped" in written.getvalue()


def test_a_console_that_waits_for_a_line_ends_when_the_run_does() -> None:
    """Nobody has to press enter for nothing."""
    reading, typing = os.pipe()
    with os.fdopen(reading, encoding="utf-8") as lines:
        ours = Console(ASKING, lambda _: None, lines, io.StringIO())
        waiting = threading.Thread(target=ours.run)
        waiting.start()
        ours.close()
        waiting.join(10.0)
        assert not waiting.is_alive()
    os.close(typing)


def test_app_and_console_are_both_screens() -> None:
    """A session needs to know no more than the port."""
    ours, _, _ = console()
    screens: list[Screen] = [ours, EyesoutApp(ASKING, lambda _: None)]
    assert len(screens) == 2


def test_after_the_end_one_line_closes() -> None:
    """Whatever is typed."""
    ours, intents, written = console("anything\nmore\n")
    ours.post_view(COMPLETE)
    ours.run()
    assert intents == [Left()]
    assert "press enter to close" in written.getvalue()
