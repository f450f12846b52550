"""What was learned, in words: what to expect of this voice, microphone and room, and what would help."""

from typing import Final

from runner.voice.lesson.learned import Learned, LearnedEar, Measures
from runner.voice.lesson.share import Share
from runner.voice.listen.noise import RoomLimits

QUIET_DBFS: Final = -42.0
"""Speech below this is nearer to the faintest that counts (-62) than to a headset's usual level (-22)."""
LOW_RATIO_DB: Final = 15.0
"""With less between speech and noise, answers are refused more often."""

KEYS: Final = "Keys answer every item, always."
NO_PROMISE: Final = (
    "None of this makes an answer right: watch what is shown and read back, "
    "and say correction when it is not what you said."
)

_RARE: Final = 200.0
"""Less often than once in so many answers is told as such."""


def get_advice(learned: Learned) -> tuple[str, ...]:
    """Sentences for the person, the plainest first; a range wherever twenty phrases leave one."""
    ear, measures = learned.ear, learned.measures
    sentences = (
        _heard_words(learned),
        _expectation(ear),
        _wrong_words(learned),
        _threshold_words(ear),
        _level_words(measures),
        _clip_words(measures),
        _quiet_words(measures),
        _loud_words(measures, ear),
        f"{NO_PROMISE} {KEYS}",
    )
    return tuple(filter(None, sentences))


def _heard_words(learned: Learned) -> str:
    tally = learned.ear.as_shipped
    late = f", and {learned.understood_late} more when said again" if learned.understood_late else ""
    return f"I heard {tally.right} of {tally.answers} answers at once{late}, with the ear {learned.engine}."


def _expectation(ear: LearnedEar) -> str:
    """How often to expect to be asked again."""
    tally = ear.usual
    asked_again = Share(tally.refused, tally.answers)
    low, high = asked_again.bounds
    return (
        f"Expect me to ask again {_how_often(asked_again.expected)}; "
        f"so few phrases fit anything from {_how_often(low)} to {_how_often(high)}."
    )


def _how_often(share: float) -> str:
    if share * _RARE < 1.0:
        return "hardly ever"
    if share > 0.75:  # noqa: PLR2004 - nearer to always than to every other time
        return "nearly every time"
    if share > 0.4:  # noqa: PLR2004 - nearer to one in two than to one in three
        return "every other answer"
    return f"once in {round(1.0 / share)} answers"


def _wrong_words(learned: Learned) -> str:
    tally = learned.ear.as_shipped
    tries = tally.answers + tally.others
    if not tally.wrong:
        most = Share(0, tries).bounds[1]
        return (
            f"I took nothing wrongly, of {tally.others} phrases that answer nothing and {tally.answers} "
            f"that do; {tries} cannot show more than that it is rarer than {_how_often(most)}."
        )
    cases = "; ".join(learned.heard_wrong)
    return f"I took {tally.wrong} of {tries} wrongly: {cases}. Check each read-back, or use keys."


def _threshold_words(ear: LearnedEar) -> str:
    if ear.threshold > ear.shipped:
        return (
            f"So I ask to be surer of you: {ear.threshold:.2f} instead of {ear.shipped:.2f}; "
            "that asks again more often."
        )
    if ear.threshold < ear.shipped:
        return (
            "Right answers of yours came out less sure than most people's: I take them from "
            f"{ear.threshold:.2f} on instead of {ear.shipped:.2f}."
        )
    return ""


def _level_words(measures: Measures) -> str:
    return (
        f"Your voice lies at {measures.speech_dbfs:.0f} dBFS, the room at {measures.floor_dbfs:.0f}: "
        f"{measures.ratio_db:.0f} dB between them."
    )


def _clip_words(measures: Measures) -> str:
    if not measures.clipped:
        return ""
    return (
        f"The microphone clips: {measures.clipped} of {measures.sayings} phrases were too loud for it. "
        "Turn its level down or move it away from your mouth."
    )


def _quiet_words(measures: Measures) -> str:
    if measures.speech_dbfs >= QUIET_DBFS:
        return ""
    return "The microphone is too quiet: turn its level up, or bring it nearer to the corner of your mouth."


def _loud_words(measures: Measures, ear: LearnedEar) -> str:
    if measures.floor_dbfs < RoomLimits().too_loud_dbfs and measures.ratio_db >= LOW_RATIO_DB:
        return ""
    tally = ear.usual
    low, high = (round(20 * bound) for bound in Share(tally.refused, tally.answers).bounds)
    return (
        f"The room is too loud for this microphone: expect {low} to {high} of 20 answers to be asked again. "
        "Use keys, or a headset."
    )
