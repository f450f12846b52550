"""One view of the run: everything that a screen shows, as plain data; the time of day is data too."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from runner.core.event import Channel
from runner.core.state import State
from runner.language.catalogue import Outcome, Word
from runner.language.meaning import Meaning
from runner.screen.drill_view import DrillView


class NoiseView(StrEnum):
    """How loud the room is for the ear; the value is the word shown."""

    QUIET = "quiet"
    LOUD = "loud"
    TOO_LOUD = "too loud"
    UNKNOWN = "no microphone"


class HeardVerdict(StrEnum):
    """What became of the last thing heard or keyed; the value is the word shown."""

    TAKEN = "taken"
    REFUSED = "not taken"


class ClockState(StrEnum):
    """Where an open clock stands against its limits; the value is the word shown."""

    RUNNING = "running"
    ADVISE = "past advise"
    LIMIT = "PAST LIMIT"


@dataclass(frozen=True, slots=True)
class AnswerView:
    """One answer that can be given now with one key."""

    key: str
    label: str
    meaning: Meaning
    outcome: Outcome | None = None
    """None for standard words, which judge nothing."""
    say: str = ""
    """What the ear takes for it, where that is not the label."""
    is_expected: bool = False
    """The space bar gives it too: the one answer that passes, or the word that goes on."""


@dataclass(frozen=True, slots=True)
class Gauge:
    """The reading in force, for number entry by keys."""

    item: str
    unit: str
    resolution: Decimal
    """Smallest step that the gauge shows."""
    low: Decimal
    """Smallest value that can be entered."""
    high: Decimal
    """Largest value that can be entered."""


@dataclass(frozen=True, slots=True)
class ClockView:
    """One open spin-up clock."""

    name: str
    elapsed_seconds: float
    advise_seconds: float
    limit_seconds: float
    answers: tuple[AnswerView, ...]
    """The answers that end it now: that it is stuck can be said only from the limit on."""

    @property
    def state(self) -> ClockState:
        """Running, past its advise time, or past its limit."""
        if self.elapsed_seconds >= self.limit_seconds:
            return ClockState.LIMIT
        if self.elapsed_seconds >= self.advise_seconds:
            return ClockState.ADVISE
        return ClockState.RUNNING


@dataclass(frozen=True, slots=True)
class HeardView:
    """The last thing heard or keyed, and what became of it."""

    text: str
    """Empty when nothing could be made of it."""
    confidence: float
    """0 to 1."""
    verdict: HeardVerdict
    reason: str = ""
    """Why it was not taken; empty when it was."""
    channel: Channel = Channel.VOICE


@dataclass(frozen=True, slots=True)
class BatteryView:
    """What this check has used of the battery."""

    ampere_hours: float
    usable_ampere_hours: float
    """0 where nothing is known of a battery."""
    warn_share: float
    """Share of the usable ampere-hours, 0 to 1, from which on it is a caution."""

    @property
    def share(self) -> float:
        """Used share of the usable ampere-hours; 1 is all of it."""
        return self.ampere_hours / self.usable_ampere_hours if self.usable_ampere_hours > 0 else 0.0

    @property
    def is_known(self) -> bool:
        """Whether there is a battery to speak of."""
        return self.usable_ampere_hours > 0

    @property
    def is_warned(self) -> bool:
        """The share has reached the warning share."""
        return self.is_known and self.share >= self.warn_share


@dataclass(frozen=True, slots=True)
class SoundView:
    """What the session knows about ears and mouth."""

    engine: str = ""
    """Name of the recogniser; empty when the run goes by keys alone."""
    channel: Channel = Channel.KEYS
    """How answers are expected."""
    dbfs: float | None = None
    """Microphone level, decibels below full scale; None without a microphone."""
    noise: NoiseView = NoiseView.UNKNOWN
    heard: HeardView | None = None
    said: str = ""
    """What was last said to the pilot."""


@dataclass(frozen=True, slots=True)
class View:
    """One moment of a run, as it is shown."""

    now: float
    """Seconds since the epoch."""
    turn: int
    """The turn that a key pressed at this view answers."""
    state: State
    airplane: str
    registration: str
    check: str
    section: str
    """Empty before the first and after the last item."""
    number: int
    """Position of the item in force among all items, from 1; 0 when there is none."""
    done: int
    total: int
    challenge: str
    """The item's challenge, or what the pilot is to know now; shown large."""
    kind: str
    """Kind of item as a word: reading, state, spin-up; empty when there is none."""
    is_critical: bool
    words: tuple[Word, ...]
    """Standard words in force: each is answered, if only with why nothing comes of it."""
    question: str
    """The confirmation that is waited for; empty when none is."""
    answers: tuple[AnswerView, ...]
    gauge: Gauge | None
    """The reading in force, or the one whose value is to be confirmed."""
    clocks: tuple[ClockView, ...]
    battery: BatteryView
    put_off: tuple[str, ...]
    """Challenges of the items put off, in the order in which they come back."""
    squawks: int
    cautions: int
    sound: SoundView
    stop: str = ""
    """What the run is stopped by, as it was answered; empty where it is not."""
    remedy: str = ""
    """What to do about the stop."""
    stops: int = 0
    """Stops so far, remedied or not."""
    is_abandoning: bool = False
    """The way out: only what was moved is asked for."""
    briefing: tuple[str, ...] = ()
    """The check's cautions, shown before its first item."""
    findings: tuple[str, ...] = ()
    """Squawks and cautions of a run that is over, each with its value."""
    band: str = ""
    """Which values pass, where one is out of it; empty before, so that it leads no reading."""
    acting: tuple[Word, ...] = ()
    """Words in force of which something would come now."""
    drill: DrillView | None = None
    """The played airplane beside the check; None where the airplane is a real one, or none is played."""
    is_drill: bool = False
    """Nothing of this is about a real airplane."""
    corrections: tuple[AnswerView, ...] = ()
    """Named answers that may follow the word "correction" in one line, as in one breath."""
    corrected_gauge: Gauge | None = None
    """The reading whose new value may follow it."""
    typed: str = ""
    """Digits entered so far; the screen's own, filled in where the keys are read."""
    refusal: str = ""
    """Why the last key gave no answer; the screen's own."""
    is_left: bool = False
    """Leaving was asked for at this turn already; the screen's own."""
    shows_keys: bool = False
    """The keys are shown instead of the item, until any key; the screen's own."""
    is_note_typed: bool = False
    """A note is wanted and nothing can record one: it is typed."""
    failures: tuple[str, ...] = ()
    """What has failed and why: `ear: no answer for 5 s`."""
