"""`eyesout devices`: the sound devices that PortAudio sees."""

import argparse
import json
from dataclasses import asdict
from typing import TextIO

from runner.voice.card.audio_clock import start_clock
from runner.voice.card.portaudio import Device, PortAudio


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """How it is printed."""
    parser.add_argument("--json", action="store_true", help="as JSON")


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """List them; AudioError (exit code 4) when the sound library is missing."""
    devices = PortAudio(start_clock()).devices()
    if arguments.json:
        print(json.dumps([asdict(device) for device in devices], indent=2), file=out)
    elif not devices:
        print("no sound devices; plug one in, or answer by keys", file=out)
    else:
        print("\n".join(_line(device) for device in devices), file=out)
    return 0


def _line(device: Device) -> str:
    defaults = [
        name
        for name, is_default in (
            ("default microphone", device.is_default_input),
            ("default loudspeaker", device.is_default_output),
        )
        if is_default
    ]
    uses = f"{device.inputs} in, {device.outputs} out, {device.rate} Hz, {device.system}"
    return f"{device.index:3d}  {device.name}  ({uses}){'  ' if defaults else ''}{', '.join(defaults)}"
