"""`eyesout hear`: what the ear makes of recordings, one JSON line each."""

import argparse
import json
from pathlib import Path
from typing import TextIO

from runner.errors import UsageError
from runner.language.spelling import normalise
from runner.session.engine import BUILTIN, ENGINE_HELP, make_recogniser
from runner.voice.port import RATE, Block, Hearing, Recogniser
from runner.voice.sound import read_recording, resample


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The phrases in force and the recordings."""
    parser.add_argument("--phrases", required=True, help='what may be said, as in "flag pulled|flag in view"')
    parser.add_argument("--engine", default=BUILTIN, help=ENGINE_HELP)
    parser.add_argument("--json", action="store_true", help="as printed anyway: one JSON object a line")
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE", help="WAV, FLAC, Opus, ...")


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Hear each file as one utterance; 0 when all could be read."""
    phrases = tuple(dict.fromkeys(filter(None, map(normalise, arguments.phrases.split("|")))))
    if not phrases:
        raise UsageError('no phrase given; write --phrases "flag pulled|flag in view"')
    recogniser = make_recogniser(arguments.engine)
    missing = recogniser.missing_words(phrases)
    if missing:
        raise UsageError(f"the ear {recogniser.name} knows no such words: {', '.join(missing)}")
    recogniser.expect(phrases)
    for path in arguments.files:
        hearing = hear_file(recogniser, path)
        print(
            json.dumps(
                {
                    "file": str(path),
                    "text": hearing.text,
                    "confidence": round(hearing.confidence, 4),
                    "milliseconds": round(1000 * hearing.compute_seconds, 1),
                    "engine": recogniser.name,
                }
            ),
            file=out,
            flush=True,
        )
    return 0


def hear_file(recogniser: Recogniser, path: Path) -> Hearing:
    """One recording as one utterance, whole; its times count from the file's start."""
    samples = resample(read_recording(path), RATE).samples
    recogniser.feed(Block(samples, 0.0))
    return recogniser.finish()
