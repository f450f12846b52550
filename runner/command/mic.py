"""`eyesout mic`: the level, the noise floor and what is heard, until it is stopped; or a lesson."""

from __future__ import annotations

import argparse
import json
import queue
from typing import Any, Final, TextIO

from runner.command import learn
from runner.command.figure import figure
from runner.language.spelling import normalise
from runner.session.engine import BUILTIN, ENGINE_HELP, make_recogniser
from runner.voice.card.audio_clock import start_clock
from runner.voice.card.portaudio import PortAudio
from runner.voice.card.sounddevice_microphone import SounddeviceMicrophone
from runner.voice.listen.listener import Listener
from runner.voice.listen.result import Level, Result, RoomChanged, UtteranceHeard
from runner.voice.port import Block

LEVEL_SECONDS: Final = 0.5
"""Between two lines of the level."""

PHRASES: Final = "affirm|negative|say again|standby|continue|flag pulled|two four decimal six|both lit"

_BAR_DBFS: Final = 60
"""Range of the bar."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Which device, which phrases, how long."""
    parser.add_argument("--phrases", default=PHRASES, help=f'what may be said (default: "{PHRASES}")')
    parser.add_argument(
        "--seconds", type=figure(0, 86_400), default=0.0, help="stop after this long (default: ctrl+c)"
    )
    parser.add_argument("--engine", default="", help=ENGINE_HELP)
    parser.add_argument("--microphone", default="", metavar="DEVICE", help="number or part of its name")
    parser.add_argument("--json", action="store_true", help="one JSON object a line")
    learn.add_arguments(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Listen and print, or learn; AudioError (exit code 4) without a microphone."""
    if arguments.learn or arguments.forget:
        return learn.run(arguments, out)
    recogniser = make_recogniser(arguments.engine or BUILTIN)
    listener = Listener(recogniser)
    listener.expect(0, tuple(filter(None, map(normalise, arguments.phrases.split("|")))))
    clock = start_clock()
    blocks: queue.Queue[Block | None] = queue.Queue()
    microphone = SounddeviceMicrophone(
        PortAudio(clock), arguments.microphone, lambda is_lost, _at: blocks.put(None) if is_lost else None
    )
    microphone.open(blocks.put)
    until = clock.now() + arguments.seconds if arguments.seconds else float("inf")
    shown_at = 0.0
    try:
        while clock.now() < until:
            block = blocks.get()
            if block is None:
                _print(out, {"lost": True}, "the microphone is gone", as_json=arguments.json)
                return 4
            for result in listener.hear(block):
                if isinstance(result, Level) and result.at < shown_at + LEVEL_SECONDS:
                    continue
                shown_at = result.at if isinstance(result, Level) else shown_at
                _tell(out, result, as_json=arguments.json)
    finally:
        microphone.close()
    return 0


def _tell(out: TextIO, result: Result, *, as_json: bool) -> None:
    match result:
        case Level(_, dbfs, floor):
            values = {"level_dbfs": round(dbfs, 1), "floor_dbfs": round(floor, 1)}
            bar = "#" * max(0, round((dbfs + _BAR_DBFS) / 2))
            _print(out, values, f"{dbfs:6.1f} dBFS  floor {floor:6.1f}  {bar}", as_json=as_json)
        case UtteranceHeard(_, hearing):
            heard: dict[str, Any] = {"text": hearing.text, "confidence": round(hearing.confidence, 3)}
            said = f'heard "{hearing.text}"' if hearing.text else "heard nothing in force"
            _print(out, heard, f"{said}  {hearing.confidence:.2f}", as_json=as_json)
        case RoomChanged(_, room, dbfs):
            words = f"the room is {room.value} ({dbfs:.1f} dBFS)"
            _print(out, {"room": room.value, "floor_dbfs": round(dbfs, 1)}, words, as_json=as_json)
        case _:
            pass


def _print(out: TextIO, values: dict[str, Any], words: str, *, as_json: bool) -> None:
    print(json.dumps(values) if as_json else words, file=out, flush=True)
