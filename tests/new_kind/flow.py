"""The whole flow with a check of a kind of item that was just added; writes what came of each step as JSON.

Started by `tests/test_new_kind.py` in a copy of the tree: `python flow.py CHECK FOLDER`.
"""

import asyncio
import contextlib
import io
import json
import sys
from dataclasses import replace
from pathlib import Path
from unittest.mock import patch

from runner import cli
from runner.checklist.format.check_load import load_check
from runner.core.ask.outlook import outlook_of
from runner.core.ask.upcoming_prompts import upcoming_prompts
from runner.core.effect import Say
from runner.core.event import Answered, Channel, Started
from runner.core.grid.machine import Machine
from runner.language.force import understand
from runner.screen.build import build_view
from runner.screen.full.screen_app import EyesoutApp
from runner.screen.keys import KeyedAnswer, key_to_intent
from runner.screen.view import SoundView
from runner.session.parts import load_parts

FILE, BOOK = sys.argv[1:3]


def typed(*words: str, lines: str = "") -> tuple[int, str]:
    """A command as a user types it, with these lines on its input."""
    out = io.StringIO()
    with contextlib.redirect_stdout(out), patch.object(sys, "stdin", io.StringIO(lines)):
        return cli.main(list(words)), out.getvalue()


def hear(machine: Machine, at: float, text: str) -> list[str]:
    """What is said once an ear has made this text out."""
    meaning = understand(text, outlook_of(machine.progress).in_force)
    if meaning is None:
        raise LookupError(f'"{text}" is not in force')
    event = Answered(at, machine.turn, meaning, text, 0.9, at, Channel.VOICE)
    return [each.text for each in machine.handle(event)[1] if isinstance(each, Say)]


def begun() -> Machine:
    """A run whose first item is asked."""
    machine = Machine(load_parts(FILE).plan)
    machine.handle(Started(1.0))
    hear(machine, 2.0, "continue")
    return machine


def spoken() -> list[str]:
    """A level that is too low: in question, confirmed and read back."""
    machine = begun()
    return [*hear(machine, 20.0, "three five percent"), *hear(machine, 30.0, "affirm")]


async def shown() -> dict[str, str]:
    """The first screen of the full-screen app, and what digits and enter mean there."""
    view = build_view(begun(), 3.0, airplane="", registration="", sound=SoundView())
    app = EyesoutApp(view, lambda _intent: None)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        words = " ".join(str(each.render()) for each in app.query("*") if each.id)
    intent = key_to_intent("enter", replace(view, typed="75"))
    text = intent.text if isinstance(intent, KeyedAnswer) else ""
    return {"kind": view.kind, "words": words, "keyed": text}


def main() -> None:
    """Every step, in the order in which a user comes to them."""
    record = ("--logbook", BOOK)
    by_keys = ("--keys", "--plain", *record)
    found = {
        "loaded": type(load_check(Path(FILE)).items[0].body).__name__,
        "linted": typed("lint", FILE),
        "prompts": [each.text for each in upcoming_prompts(load_parts(FILE).plan)],
        "spoken": spoken(),
        "shown": asyncio.run(shown()),
        "stopped": typed("run", FILE, *by_keys, lines="c\n35\n"),
        "resumed": typed("run", "--resume", *by_keys, lines="a\nlocked\ncheck complete\n\n"),
        "verified": typed("verify", *record),
        "reported": [
            typed("report", "last", *record, f"--{form}", "--to", f"{BOOK}/run.{form}")
            for form in ("html", "csv", "json")
        ],
    }
    sys.stdout.write(json.dumps(found))


main()
