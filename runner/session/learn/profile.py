"""The user's folder of what was learned: a JSON file for each pilot and device, and which ear it asks for."""

from __future__ import annotations

import hashlib
import json
import os
import re
import tempfile
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final

from runner.errors import ModelError
from runner.session.engine import BUILTIN, fingerprint
from runner.voice.lesson.learned import Learned, LearnedEar, Measures
from runner.voice.lesson.trial import Tally

_AGAIN: Final = "learn again with `eyesout mic --learn`"
_VERSION: Final = 1
_CARD: Final = re.compile(r"\s*\(hw:\d+,\d+\)$")
"""ALSA's number of a sound card, which changes with the order of plugging in."""


@dataclass(frozen=True, slots=True)
class EarChoice:
    """The ear for a run, and one line about why; empty when there is nothing to say."""

    engine: str
    threshold: float | None = None
    """None for the one that the ear comes with."""
    notice: str = ""


def choose_ear(by_hand: str, pilot: str, device: str, folder: Path) -> EarChoice:
    """The ear given by hand, or what was learned of this pilot on this device, or the built-in one.

    What cannot be used is no reason to keep a run from beginning: it gets a line, and is left aside.
    """
    if by_hand:
        return EarChoice(by_hand)
    try:
        learned = load_learned(folder, pilot, device)
        is_same = learned is not None and fingerprint(learned.engine) == learned.ear.fingerprint
    except ModelError as error:
        return EarChoice(BUILTIN, notice=f"{error}; not used; {_AGAIN}")
    if learned is None:
        return EarChoice(BUILTIN)
    who = describe(learned.pilot, learned.device)
    if not is_same:
        return EarChoice(BUILTIN, notice=f"what was learned of {who} was of another ear; {_AGAIN}")
    day = datetime.fromtimestamp(learned.learned_at, UTC).date().isoformat()
    notice = f"using what was learned of {who}, {day}: ear {learned.engine}"
    return EarChoice(learned.engine, learned.ear.threshold, notice)


def describe(pilot: str, device: str) -> str:
    """Whose it is, in words."""
    return f"{pilot or 'the pilot without a name'} on {device}"


def keep_learned(folder: Path, learned: Learned) -> Path:
    """Write it, whole or not at all, in place of what was learned before; ModelError when it cannot be."""
    path = _path(folder, learned.pilot, learned.device)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(prefix=".", suffix=".json", dir=folder)
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                json.dump({"version": _VERSION, **asdict(learned)}, file, indent=2)
                file.write("\n")
                file.flush()
                os.fsync(file.fileno())
            Path(name).replace(path)
        finally:
            Path(name).unlink(missing_ok=True)
    except OSError as error:
        raise ModelError(f"{path}: {error.strerror}; what was learned could not be kept") from error
    return path


def load_learned(folder: Path, pilot: str, device: str) -> Learned | None:
    """What was learned of them, if anything; ModelError when the file cannot be read."""
    path = _path(folder, pilot, device)
    try:
        return learned_of(json.loads(path.read_text(encoding="utf-8")))
    except FileNotFoundError:
        return None
    except OSError as error:
        raise ModelError(f"{path}: {error.strerror}") from error
    except (ValueError, KeyError, TypeError, StopIteration) as error:
        raise ModelError(f"{path} cannot be read ({error})") from error


def forget_learned(folder: Path, pilot: str, device: str) -> bool:
    """Remove what was learned of them; False when there was nothing."""
    path = _path(folder, pilot, device)
    try:
        path.unlink()
    except FileNotFoundError:
        return False
    except OSError as error:
        raise ModelError(f"{path}: {error.strerror}; delete it by hand") from error
    return True


def learned_of(given: dict[str, Any]) -> Learned:
    """From a file's JSON; ValueError, KeyError or TypeError when it is something else."""
    fields = dict(given)
    if fields.pop("version") != _VERSION:
        raise ValueError("it belongs to another version of eyesout")
    fields["measures"] = Measures(**fields["measures"])
    fields["ears"] = tuple(_ear_of(ear) for ear in fields["ears"])
    fields["heard_wrong"] = tuple(fields["heard_wrong"])
    learned = Learned(**fields)
    if not 0.0 <= learned.ear.threshold <= 1.0:
        raise ValueError(f"{learned.ear.threshold} is no threshold")
    return learned


def _ear_of(given: dict[str, Any]) -> LearnedEar:
    tallies = {name: Tally(**given[name]) for name in ("as_shipped", "as_fitted")}
    return LearnedEar(**{**given, **tallies})


def _path(folder: Path, pilot: str, device: str) -> Path:
    """One file for a pilot and device: names may hold anything, so a digest stands for them."""
    key = "\0".join((" ".join(pilot.split()).casefold(), _CARD.sub("", device)))
    return folder / f"{hashlib.sha256(key.encode()).hexdigest()[:16]}.json"
