"""Views of an invented airplane for the screen's tests: one for each thing that a screen can show."""

from dataclasses import replace
from decimal import Decimal
from typing import Final

from runner.core.event import Channel
from runner.core.state import State
from runner.language.catalogue import Outcome, Word
from runner.language.meaning import Command, Picked, Pulled, Stuck
from runner.screen.view import (
    AnswerView,
    BatteryView,
    ClockView,
    Gauge,
    HeardVerdict,
    HeardView,
    NoiseView,
    SoundView,
    View,
)

AFFIRM: Final = AnswerView("a", "affirm", Command(Word.AFFIRM))
NEGATIVE: Final = AnswerView("n", "negative", Command(Word.NEGATIVE))
CONTINUE: Final = AnswerView("c", "continue", Command(Word.CONTINUE))
GO_ON: Final = replace(CONTINUE, is_expected=True)

LAMPS: Final = (
    AnswerView("b", "both lit", Picked("lamps", "both lit"), Outcome.PASS, is_expected=True),
    AnswerView("l", "left out", Picked("lamps", "left out"), Outcome.SQUAWK),
    AnswerView("r", "right out", Picked("lamps", "right out"), Outcome.SQUAWK),
)
VOLTS: Final = Gauge("volts", "volts", Decimal("0.1"), Decimal("15.0"), Decimal("32.0"))
LEFT: Final = ClockView(
    "left gyro",
    22.4,
    60,
    120,
    (AnswerView("g", "left gyro, flag pulled", Pulled("left-gyro"), Outcome.PASS),),
)
RIGHT: Final = ClockView(
    "right gyro",
    71.0,
    60,
    120,
    (AnswerView("y", "right gyro, flag pulled", Pulled("right-gyro"), Outcome.PASS),),
)
STUCK: Final = replace(
    RIGHT,
    elapsed_seconds=121.0,
    answers=(*RIGHT.answers, AnswerView("k", "right gyro stuck", Stuck("right-gyro"), Outcome.SQUAWK)),
)
SOUND: Final = SoundView(
    engine="built-in",
    channel=Channel.VOICE,
    dbfs=-41.0,
    noise=NoiseView.QUIET,
    heard=HeardView("reserve bus selected", 0.97, HeardVerdict.TAKEN),
    said="Annunciator lamps, both lit?",
)

ACTING: Final = (
    *(Word.STANDBY, Word.SAY_AGAIN, Word.READ_BACK, Word.CORRECTION, Word.CONFIRM, Word.UNABLE, Word.PUT_OFF),
    *(Word.WHY, Word.NOTE, Word.ABANDON, Word.SPEAK_SLOWER, Word.WORDS_TWICE),
)
ASKING: Final = View(
    now=1_790_000_000.0,
    turn=9,
    state=State.ASKING,
    airplane="Merlow ML-2, an invented light twin jet",
    registration="QQ-ML2",
    check="Merlow ML-2, reserve bus, before the first flight of the day",
    section="Reserve bus",
    number=9,
    done=8,
    total=24,
    challenge="Annunciator lamps, both lit?",
    kind="state",
    is_critical=False,
    words=tuple(word for word in Word if word is not Word.SQUAWK),
    question="",
    answers=LAMPS,
    gauge=None,
    clocks=(),
    battery=BatteryView(0.42, 17.0, 0.1),
    put_off=(),
    squawks=0,
    cautions=0,
    sound=SOUND,
    acting=ACTING,
)
READING: Final = replace(
    ASKING,
    challenge="Reserve bus volts?",
    kind="reading",
    is_critical=True,
    answers=(),
    gauge=VOLTS,
    clocks=(LEFT, RIGHT),
    sound=replace(SOUND, said="Reserve bus volts?"),
)
BRIEFING: Final = replace(
    ASKING,
    state=State.BRIEFING,
    words=(Word.CONTINUE, Word.SAY_AGAIN, Word.STANDBY, Word.ABANDON, Word.ROGER),
    acting=(Word.CONTINUE, Word.SAY_AGAIN, Word.STANDBY, Word.ABANDON),
    section="",
    number=0,
    done=0,
    challenge="Cautions first",
    kind="",
    answers=(GO_ON,),
    briefing=(
        "Chocks in, ground power unplugged: this check runs on the battery alone.",
        "Pitot covers off before the heaters; touch nothing hot.",
        "The check drains the battery: do not stop half way with the selector on reserve.",
    ),
    battery=BatteryView(0.0, 17.0, 0.1),
    sound=replace(SOUND, heard=None, said="Cautions first."),
)
CONFIRMING: Final = replace(
    READING,
    state=State.CONFIRMING,
    question="22.1 volts is a squawk: confirm?",
    band="passes from 24.8 to 26.3 volts, a caution from 24.0 to 26.5",
    answers=(AFFIRM, NEGATIVE),
    sound=replace(
        SOUND,
        heard=HeardView("two two decimal one volts", 0.91, HeardVerdict.TAKEN),
        said="Two two decimal one volts, a squawk. Confirm?",
    ),
)
LEAVING: Final = replace(
    ASKING,
    state=State.CONFIRMING,
    question="Abandon the check?",
    answers=(AFFIRM, NEGATIVE),
)
WAITING: Final = replace(
    ASKING,
    state=State.WAITING,
    number=0,
    done=20,
    challenge="Wait for the right gyro",
    kind="",
    answers=(),
    clocks=(STUCK,),
    squawks=1,
    cautions=1,
    battery=BatteryView(1.81, 17.0, 0.1),
    sound=replace(
        SOUND,
        heard=HeardView("roger", 0.99, HeardVerdict.REFUSED, "roger does not answer"),
        said="Right gyro, flag pulled?",
    ),
)
HOLDING: Final = replace(
    ASKING,
    state=State.HOLDING,
    words=(Word.CONTINUE, Word.SAY_AGAIN, Word.ABANDON),
    acting=(Word.CONTINUE, Word.SAY_AGAIN, Word.ABANDON),
    challenge="Holding at: annunciator lamps",
    answers=(GO_ON,),
    clocks=(LEFT,),
    put_off=("Pitot heat meter, no movement?", "Fuel quantity digits dark?"),
)
TOO_LOUD: Final = replace(
    ASKING,
    sound=replace(
        SOUND,
        channel=Channel.KEYS,
        dbfs=-9.0,
        noise=NoiseView.TOO_LOUD,
        heard=HeardView("", 0.21, HeardVerdict.REFUSED, "not sure enough"),
    ),
)
NOTING: Final = replace(
    ASKING,
    state=State.NOTING,
    words=(),
    acting=(),
    challenge="Say the note; enter ends it",
    answers=(),
    kind="",
)
TYPING: Final = replace(
    NOTING,
    challenge="Type the note; enter keeps it",
    is_note_typed=True,
    sound=SoundView(said="Type the note."),
)
RESTORING: Final = replace(
    ASKING,
    state=State.RESTORING,
    number=22,
    section="Restoration",
    challenge="Selector to NORMAL",
    kind="action",
    is_critical=True,
    answers=(AnswerView("n", "normal", Picked("restore", "normal"), Outcome.PASS),),
    squawks=1,
)
STOPPED: Final = replace(
    ASKING,
    state=State.STOPPED,
    section="Outside",
    number=2,
    done=1,
    challenge="Area round the propeller?",
    is_critical=True,
    words=(
        *(Word.SAY_AGAIN, Word.STANDBY, Word.CORRECTION, Word.DISREGARD, Word.NEGATIVE),
        *(Word.READ_BACK, Word.WHY, Word.NOTE, Word.ABANDON, Word.SQUAWK),
    ),
    answers=(
        AnswerView("c", "clear", Picked("area", "clear"), Outcome.PASS),
        AnswerView("s", "somebody there", Picked("area", "somebody there"), Outcome.STOP),
    ),
    acting=(Word.STANDBY, Word.SAY_AGAIN, Word.CORRECTION, Word.WHY, Word.NOTE, Word.ABANDON, Word.SQUAWK),
    stop="somebody there",
    remedy="Send them away, and wait until they stand clear of the propeller's disc",
    stops=1,
    sound=replace(
        SOUND,
        heard=HeardView("somebody there", 0.96, HeardVerdict.TAKEN),
        said="Stop, somebody there. Send them away, and wait until they stand clear.",
    ),
)
UNDER_FLOOR: Final = replace(
    READING,
    state=State.STOPPED,
    challenge="Stopped at: Reserve bus volts?",
    gauge=None,
    words=(*STOPPED.words, Word.CONTINUE),
    acting=(Word.CONTINUE, Word.SAY_AGAIN, Word.SQUAWK, Word.ABANDON),
    band="passes from 24.8 to 26.3 volts, a stop below 20.0",
    answers=(CONTINUE, AnswerView("q", "abandon check", Command(Word.ABANDON))),
    stop="19.0 volts",
    remedy="Charge the battery before anything else",
    stops=1,
)
COMPLETE: Final = replace(
    ASKING,
    state=State.COMPLETE,
    words=(),
    acting=(),
    section="",
    number=0,
    done=24,
    challenge="Check complete",
    kind="",
    answers=(),
    squawks=2,
    cautions=1,
    findings=(
        "squawk: Annunciator lamps, both lit: left out",
        "squawk: Reserve bus volts: 22.1 volts",
        "caution: Call the right gyro's flag when it pulls: 74 s",
    ),
    sound=replace(SOUND, said="Check complete. Two squawks, one caution."),
)
STARTING: Final = replace(
    ASKING,
    state=State.READY,
    words=(),
    acting=(),
    section="",
    number=0,
    done=0,
    challenge="Starting",
    kind="",
    answers=(),
    sound=replace(SOUND, heard=None, said=""),
)
LOST: Final = replace(
    ASKING,
    failures=("microphone: no sound for 4 s",),
    sound=replace(
        SOUND,
        channel=Channel.KEYS,
        dbfs=None,
        noise=NoiseView.UNKNOWN,
        heard=HeardView("left out", 1.0, HeardVerdict.TAKEN, channel=Channel.KEYS),
        said="No sound from the microphone. Use the keys. Annunciator lamps, both lit?",
    ),
)
ABANDONED: Final = replace(COMPLETE, state=State.ABANDONED, done=9, challenge="Check abandoned", findings=())
WHY: Final = replace(
    ASKING,
    sound=replace(
        SOUND,
        heard=HeardView("why", 0.98, HeardVerdict.TAKEN),
        said="At night these two lamps are all that is left to read the panel by, and a lamp that is out now "
        "will be out when it is dark. Look at each one, with your hand around it if the sun is on it. "
        "Annunciator lamps, both lit?",
    ),
)

FAILED: Final = replace(
    READING,
    failures=("ear: no answer for 5 s", "note: OSError: [Errno 28] No space left on device"),
    sound=replace(READING.sound, channel=Channel.KEYS),
)

VIEWS: Final = {
    "asking": ASKING,
    "reading": READING,
    "briefing": BRIEFING,
    "confirming": CONFIRMING,
    "leaving": LEAVING,
    "waiting": WAITING,
    "holding": HOLDING,
    "too loud": TOO_LOUD,
    "failed": FAILED,
    "noting": NOTING,
    "typing a note": TYPING,
    "restoring": RESTORING,
    "stopped": STOPPED,
    "under the floor": UNDER_FLOOR,
    "complete": COMPLETE,
    "starting": STARTING,
    "microphone lost": LOST,
    "abandoned": ABANDONED,
    "why": WHY,
}
"""All of them by name."""
