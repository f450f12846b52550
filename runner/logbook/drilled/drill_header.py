"""The header of a drill: who drilled what, from which exact files, and the story that was told."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from datetime import date
from typing import Any

from runner.airplane.model.airplane import Airplane
from runner.drill.played.hidden import Hidden, HiddenKind
from runner.drill.played.setting import Setting
from runner.drill.story.drill_story import DrillStory
from runner.drill.story.interruption import Interruption
from runner.errors import RecordError


@dataclass(frozen=True, slots=True)
class DrillHeader:
    """What a drill was begun with."""

    drill: str
    """Its id, as a run's."""
    started_at: float
    """Seconds since the epoch."""
    student: str
    check: str
    """Name of the check: the file's stem."""
    airplane: str
    registration: str
    check_text: str
    """The files' exact texts."""
    airplane_text: str
    level: int
    """0 for a plain rehearsal, in which no airplane is played."""
    story: Mapping[str, Any] = field(default_factory=dict)
    """As `story_to_json` writes it; empty for a plain rehearsal."""
    made_with: str = ""


def header_text(header: DrillHeader) -> str:
    """As JSON."""
    return json.dumps(asdict(header), ensure_ascii=False)


def header_from(text: str) -> DrillHeader:
    """The header out of its JSON; RecordError when it is none."""
    try:
        return DrillHeader(**json.loads(text))
    except (TypeError, ValueError) as error:
        raise RecordError(f"not the header of a drill: {error}") from None


def story_to_json(story: DrillStory) -> dict[str, Any]:
    """All of a story but the airplane, whose text is kept beside it."""
    setting = story.setting
    return {
        "level": story.level,
        "seed": story.seed,
        "on": setting.on.isoformat(),
        "off": sorted(setting.off),
        "is_flying": setting.is_flying,
        "hidden": [asdict(each) for each in setting.hidden],
        "around": dict(story.around),
        "interruptions": [asdict(each) for each in story.interruptions],
        "allowed_seconds": story.allowed_seconds,
    }


def story_from_json(data: Mapping[str, Any], airplane: Airplane) -> DrillStory:
    """The story that `story_to_json` wrote; RecordError for anything else."""
    try:
        hidden = tuple(Hidden(**{**each, "kind": HiddenKind(each["kind"])}) for each in data["hidden"])
        setting = Setting(
            airplane,
            hidden,
            date.fromisoformat(data["on"]),
            data["seed"],
            frozenset(data["off"]),
            is_flying=data["is_flying"],
        )
        people = tuple(
            Interruption(**{**each, "wants": tuple(each["wants"])}) for each in data["interruptions"]
        )
        return DrillStory(
            data["level"], data["seed"], setting, dict(data["around"]), people, data["allowed_seconds"]
        )
    except (KeyError, TypeError, ValueError) as error:
        raise RecordError(f"not the story of a drill: {error!r}") from None
