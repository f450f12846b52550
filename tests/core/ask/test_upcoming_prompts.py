import re

from runner.core.ask.prompt import sentences
from runner.core.ask.upcoming_prompts import FIXED, upcoming_prompts
from runner.core.event import RoomGrewLoud
from runner.core.state import FINAL
from runner.language.catalogue import Word
from tests.core import danger
from tests.core.sample import PLAN, Run, answer_by_the_book, powered

END_OF_SENTENCE = re.compile(r"(?<=[.?!])\s+")


def known() -> set[str]:
    """Every sentence that is foreseen."""
    return {part for each in upcoming_prompts(PLAN) for part in END_OF_SENTENCE.split(each.text)}


def unforeseen(run: Run) -> set[str]:
    """Sentences of the run's last prompt that were not foreseen."""
    return {part for part in END_OF_SENTENCE.split(run.machine.last_said) if part} - known()


def test_a_run_by_the_book_says_nothing_unforeseen_but_its_end() -> None:
    """So that every prompt is rendered before it is needed; the end counts what was found."""
    run = Run()
    told: set[str] = set()
    while run.state not in FINAL:
        answer_by_the_book(run)
        told |= unforeseen(run)
    assert told == {"Check complete.", "No squawks, no cautions."}


def test_discrepancies_words_and_clocks_are_foreseen() -> None:
    """Each in the words of the machine."""
    run = powered()
    assert unforeseen(run.read("31.5")) == set()
    assert unforeseen(run.say(Word.AFFIRM)) == set()
    assert unforeseen(run.pick("lamps", "left out")) == set()
    assert unforeseen(run.say(Word.CORRECTION)) == set()
    assert unforeseen(run.say(Word.ROGER)) == set()
    assert unforeseen(run.say(Word.STANDBY)) == set()
    assert unforeseen(run.say(Word.ABANDON)) == set()
    assert unforeseen(run.say(Word.NEGATIVE)) == set()
    assert unforeseen(run.take(RoomGrewLoud(run.at, -9.0))) == set()
    assert unforeseen(powered().pulled("left flag", after=40.2)) == set()
    assert unforeseen(powered().tick(29.5)) == set()


def test_stops_and_what_they_refuse_are_foreseen() -> None:
    """What is wrong, what to do about it, and the reminder in a silence."""
    texts = [each.text for each in upcoming_prompts(danger.PLAN)]
    foreseen = {part for text in texts for part in END_OF_SENTENCE.split(text)}

    def told(run: Run) -> set[str]:
        return {part for part in END_OF_SENTENCE.split(run.machine.last_said) if part} - foreseen

    run = danger.begun().pick("area", "somebody there")
    assert told(run) == set()
    assert told(run.say(Word.UNABLE)) == set()
    assert told(run.pick("area", "littered")) == set()
    assert told(run.say(Word.SQUAWK)) == set()
    assert told(run.play().tick(30)) == set()
    run = danger.dimmed().read("19.3")
    assert told(run) == set()
    run.pick("lights bright", "lights bright").pick("heater off", "heater off").pick("normal", "normal")
    assert told(run) == set()


def test_what_is_needed_first_comes_first() -> None:
    """The briefing, then the challenges in order, then what is the same for every check."""
    texts = [each.text for each in upcoming_prompts(PLAN)]
    assert texts[0].startswith("Say continue. Sample reserve check.")
    assert texts[1:3] == ["FIT.", "RESERVE."]
    assert texts[11] == sentences(FIXED[0])
