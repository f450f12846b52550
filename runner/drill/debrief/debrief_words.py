"""The debrief in words: three sentences that are spoken, and lines that stand on the screen and on paper."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from runner.drill.debrief.drill_debrief import DrillDebrief
from runner.drill.debrief.drill_figures import DrillFigures
from runner.drill.drill_event import InstructorRemark, WordsRefused
from runner.drill.judged.judgement import AnswerVerdict, JudgedAnswer, JudgedFault

NO_TRAINING: Final = "A drill is no flight training, and this airplane is a model."
"""Said and shown with every debrief."""
FEW: Final = 3


def spoken_debrief(debrief: DrillDebrief) -> tuple[str, str, str]:
    """What was found, the one thing to look at again, and how it was done."""
    return _found(debrief), _again(debrief), _manner(debrief)


def debrief_blocks(debrief: DrillDebrief) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Headings with their lines; every figure stands for itself."""
    yield "In three sentences", spoken_debrief(debrief)
    yield "Faults", tuple(_fault(debrief, each) for each in debrief.judgement.faults) or ("none was hidden",)
    wrong = [each for each in debrief.judgement.answers if each.verdict is not AnswerVerdict.RIGHT]
    yield "Answers that were not so", tuple(_answer(debrief, each) for each in wrong) or ("none",)
    if debrief.judgement.invented:
        yield "Called or answered, and nothing was wrong", debrief.judgement.invented
    yield "Manner", tuple(_manners(debrief))
    yield "Time of each answer", tuple(_times(debrief))
    if debrief.before:
        yield "Your drills of this check so far", tuple(_history(debrief))
    remarks = [event for event in debrief.events if isinstance(event, InstructorRemark)]
    if remarks:
        yield "Remarks", tuple(f"{_when(debrief, each.at)} {each.by}: {each.words}" for each in remarks)
    yield "What this is", (NO_TRAINING,)


def clock_words(seconds: float) -> str:
    """`1:07`."""
    minutes, rest = divmod(max(0, round(seconds)), 60)
    return f"{minutes}:{rest:02d}"


def _when(debrief: DrillDebrief, at: float) -> str:
    return clock_words(at - debrief.begun_at)


def _found(debrief: DrillDebrief) -> str:
    figures = debrief.figures
    if not figures.hidden:
        caught = "Nothing was hidden"
    else:
        caught = f"You caught {figures.caught} of {_faults(figures.hidden)}"
    invented = "invented none" if not figures.invented else f"invented {figures.invented}"
    return f"{caught} and {invented}."


def _faults(count: int) -> str:
    return "1 fault" if count == 1 else f"{count} faults"


def _again(debrief: DrillDebrief) -> str:
    """The missed fault that could be seen first; else an answer that was not so."""
    missed = [each for each in debrief.judgement.faults if each.fault in debrief.judgement.missed]
    if missed:
        first = min(missed, key=lambda each: each.seen_at or 0.0)
        where = " and ".join(first.seen_in[:2])
        return f"Missed: {first.fault}. It showed from {_when(debrief, first.seen_at or 0.0)} on at {where}."
    wrong = [each for each in debrief.judgement.answers if each.verdict is not AnswerVerdict.RIGHT]
    if wrong:
        each = wrong[0]
        return f"At {each.item} you said {each.answer}; {_instead(each)}."
    return "Every answer was as the panel showed."


def _instead(each: JudgedAnswer) -> str:
    if each.verdict is AnswerVerdict.UNDONE:
        return f"{', '.join(each.left_undone)} did not stand so"
    return f"it was {each.truth}"


def _manner(debrief: DrillDebrief) -> str:
    figures = debrief.figures
    taken, hurried = f"It took {clock_words(figures.seconds)}", ", ".join(_hurried(figures))
    return f"{taken}; {hurried}." if hurried else f"{taken}, and nothing was hurried or left undone."


def _hurried(figures: DrillFigures) -> Iterator[str]:
    """What was too quick, not done, not answered, or late."""
    if figures.hasty:
        answers = "answer was" if figures.hasty == 1 else "answers were"
        yield f"{figures.hasty} {answers} too quick for a look"
    if figures.undone:
        yield f"{figures.undone} said and not done"
    unanswered = figures.interruptions - figures.interruptions_answered
    if unanswered:
        yield "1 call went unanswered" if unanswered == 1 else f"{unanswered} calls went unanswered"
    if figures.allowed_seconds is not None and figures.seconds > figures.allowed_seconds:
        yield f"{clock_words(figures.seconds - figures.allowed_seconds)} late for the departure"


def _fault(debrief: DrillDebrief, each: JudgedFault) -> str:
    if each.caught_at is not None:
        return f"caught   {each.fault}; by {each.caught_by} at {_when(debrief, each.caught_at)}"
    if each.seen_at is None:
        return f"unseen   {each.fault}; it could not be seen as this drill went"
    return f"missed   {each.fault}; from {_when(debrief, each.seen_at)} on at {', '.join(each.seen_in)}"


def _answer(debrief: DrillDebrief, each: JudgedAnswer) -> str:
    return f"{_when(debrief, each.onset_at)} {each.item}: {each.answer} ({each.verdict}); {_instead(each)}"


def _manners(debrief: DrillDebrief) -> Iterator[str]:
    figures = debrief.figures
    yield f"{figures.right} of {figures.answers} answers right, {figures.hasty} too quick for a look"
    quick = [each.item for each in debrief.judgement.answers if each.is_hasty]
    if quick:
        yield f"too quick: {', '.join(quick)}"
    yield f"{figures.put_off} put off, {figures.early_hands} switches moved before they were asked for"
    if debrief.story.interruptions:
        yield f"{figures.interruptions_answered} of {figures.interruptions} interruptions answered"
    refused = [event.text for event in debrief.events if isinstance(event, WordsRefused) and event.text]
    if figures.refused_words:
        heard = f": {', '.join(dict.fromkeys(refused))}" if refused else ""
        times = "once" if figures.refused_words == 1 else f"{figures.refused_words} times"
        yield f"{times} words that answer nothing{heard}"
    allowed = "" if figures.allowed_seconds is None else f" of {clock_words(figures.allowed_seconds)} allowed"
    yield f"{clock_words(figures.seconds)}{allowed}, the middle answer after {figures.median_seconds:.1f} s"
    wasted = f"{figures.wasted_ampere_hours:.2f} of it by switches that nothing asked for"
    yield f"{figures.ampere_hours:.2f} Ah drawn, {wasted}"
    yield f"{figures.wasted_minutes:.1f} minutes of the reserve wasted"


def _times(debrief: DrillDebrief) -> Iterator[str]:
    for each in debrief.judgement.answers:
        seconds = "during the challenge" if each.seconds is None else f"{each.seconds:.1f} s"
        yield f"{_when(debrief, each.onset_at)} {each.item}: {each.answer}, {seconds}, {each.verdict}"


def _history(debrief: DrillDebrief) -> Iterator[str]:
    figures = [*debrief.before, debrief.figures.plain()]
    caught = ", ".join(f"{each['caught']} of {each['hidden']}" for each in figures)
    yield f"caught: {caught}"
    yield f"invented: {', '.join(str(each['invented']) for each in figures)}"
    yield f"too quick: {', '.join(str(each['hasty']) for each in figures)}"
    yield f"minutes: {', '.join(clock_words(each['seconds']) for each in figures)}"
    if len(figures) > FEW:
        yield f"{len(figures)} drills, the oldest first"
