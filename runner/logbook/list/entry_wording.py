"""PURE: entries, times and values in the words of lists; every entry has a line, none is left out."""

from datetime import UTC, datetime

from runner.core.record.codec import to_json
from runner.core.record.danger_stop import Stop
from runner.core.record.entry import (
    AnswerRecorded,
    BatteryWarned,
    ClockEnded,
    ConfirmationAsked,
    Entry,
    InputChanged,
    NoteRecorded,
    NoteTyped,
    PortChanged,
    Stopped,
    StopSquawked,
)
from runner.language.catalogue import FlagEnd, Outcome


def moment(at: float) -> str:
    """A time as `2025-11-25 09:20`, UTC."""
    return datetime.fromtimestamp(at, UTC).strftime("%Y-%m-%d %H:%M")


def since(at: float, started_at: float) -> str:
    """Time since the start as `12:34.5`, minutes and seconds."""
    tenths = max(0, round((at - started_at) * 10))
    return f"{tenths // 600:02d}:{tenths % 600 / 10:04.1f}"


def value_words(answer: str, value: float | None, unit: str) -> str:
    """What was answered: `24.6 volts`, `left out`, `flag pulled, 30.5 seconds`."""
    if value is None:
        return answer
    is_number = answer.replace(".", "", 1).replace("-", "", 1).isdigit()
    return f"{answer} {unit}" if is_number else f"{answer}, {value:.1f} {unit}"


def entry_words(entry: Entry) -> tuple[str, str]:
    """(item, what happened): the item is empty for what concerns the whole run."""
    kind = str(to_json(entry)["kind"])
    match entry:
        case AnswerRecorded():
            words = [entry.answer, entry.unit, entry.outcome.mark, _haste(entry)]
        case ClockEnded():
            words = [
                f"{FlagEnd.of(is_pulled=entry.is_pulled)}, {entry.seconds:.1f} seconds",
                entry.outcome.mark,
            ]
        case Stopped() | StopSquawked():
            outcome = Outcome.STOP if isinstance(entry, Stopped) else Outcome.SQUAWK
            words = [outcome.mark, entry.answer, entry.unit]
        case ConfirmationAsked():
            words = [kind] if entry.number is None else [f"{kind}: {entry.number}"]
        case BatteryWarned():
            words = [f"{kind}: {entry.ampere_hours:.1f} ampere-hours used"]
        case InputChanged() | PortChanged():
            words = [_change_words(entry, kind)]
        case NoteRecorded() | NoteTyped():
            words = [_note_words(entry, kind)]
        case _:
            words = [kind]
    return str(getattr(entry, "item", "")), " ".join(filter(None, words))


def _note_words(entry: NoteRecorded | NoteTyped, kind: str) -> str:
    if isinstance(entry, NoteTyped):
        return f"note: {entry.text}"
    return f"{kind}: {entry.seconds:.1f} seconds, {entry.clip or 'nothing heard'}"


def _change_words(entry: InputChanged | PortChanged, kind: str) -> str:
    if isinstance(entry, InputChanged):
        return f"{kind}: {entry.channel}, {entry.cause}"
    return f"{entry.port} failed: {entry.reason}" if entry.is_lost else f"{entry.port} serves again"


def became_words(stop: Stop, started_at: float) -> str:
    """What became of a stop, with the time since the start: `remedied 01:12.0`, `NOT REMEDIED`."""
    if stop.withdrawn_at is not None:
        return f"taken back {since(stop.withdrawn_at, started_at)}"
    return "NOT REMEDIED" if stop.remedied_at is None else f"remedied {since(stop.remedied_at, started_at)}"


def _haste(entry: AnswerRecorded) -> str:
    return "(faster than a look)" if entry.origin.is_hasty else ""
