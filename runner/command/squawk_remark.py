"""Remarks about a squawk out of what was typed: dates, answers and clips are checked first."""

import argparse
import time
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from runner.errors import RecordError, UsageError
from runner.logbook.record.clip_file import keep_clip
from runner.logbook.record.run_store import Logbook
from runner.logbook.squawk.deferral import QUESTIONS
from runner.logbook.squawk.maintenance_record import Closed, Deferred, Noted


def noted(arguments: argparse.Namespace, logbook: Logbook) -> Noted:
    """A note in words, or a clip that is kept beside the logbook, or both."""
    if not arguments.text and not arguments.clip:
        raise UsageError("a note needs --text, --clip, or both")
    clip = ""
    if arguments.clip:
        path = Path(arguments.clip)
        try:
            content = path.read_bytes()
        except OSError as error:
            raise RecordError(f"{path}: {error.strerror}") from None
        clip = keep_clip(logbook.clips, content, path.suffix or ".wav")
    return Noted(time.time(), arguments.by, arguments.item, arguments.text, clip)


def deferred(arguments: argparse.Namespace, _: Logbook) -> Deferred:
    """A deferral that a person made, with a date that exists."""
    try:
        until = date.fromisoformat(arguments.until)
    except ValueError:
        raise UsageError(f'"{arguments.until}" is no date; write YYYY-MM-DD') from None
    answers = read_answers(arguments.answer)
    return Deferred(
        time.time(), arguments.by, arguments.item, arguments.reference, until.isoformat(), answers
    )


def closed(arguments: argparse.Namespace, _: Logbook) -> Closed:
    """What was done, by whom."""
    return Closed(time.time(), arguments.by, arguments.item, arguments.how)


def read_answers(words: Sequence[str]) -> dict[str, bool]:
    """`d2i=no` and the like by paragraph; UsageError names the paragraphs there are."""
    known = [question.paragraph for question in QUESTIONS]
    answers: dict[str, bool] = {}
    for word in words:
        paragraph, _, answer = word.partition("=")
        if paragraph not in known or answer not in ("yes", "no"):
            raise UsageError(f'"{word}" is no answer; write {known[0]}=yes or =no for {", ".join(known)}')
        answers[paragraph] = answer == "yes"
    return answers
