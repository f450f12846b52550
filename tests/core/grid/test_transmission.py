from dataclasses import replace
from pathlib import Path

import pytest

from runner.airplane.load.airplane_load import load_airplane
from runner.checklist.derive.derived_check import derive
from runner.core.ask.upcoming_prompts import upcoming_prompts
from runner.core.effect import Finish, Say
from runner.core.event import RoomGrewLoud
from runner.core.grid.word import WAY
from runner.core.plan import Plan
from runner.core.state import FINAL, State
from runner.language.breath import LONGEST_SECONDS, MOST_TASKS, get_clauses, get_sentences, spoken_seconds
from runner.language.catalogue import Word
from runner.place import data_folder
from runner.session.parts import assemble, load_parts
from tests.core.sample import CHECK, PLAN, Run, answer_by_the_book, begun, powered

CAUTIONS = (
    "Engines stopped, nobody near the inlets. Ground power unplugged.",
    "This check drains the battery. Have every switch found before the selector moves.",
    "Touch each switch and point at each instrument before you answer.",
)
LONG = replace(PLAN, check=replace(CHECK, cautions=CAUTIONS))
CHECKS = sorted(path.stem for path in data_folder("checklists").glob("*.yaml"))
AIRPLANES = sorted((data_folder("checklists") / "airplanes").glob("*.yaml"))


def derived_plan(path: Path) -> Plan:
    """The plan of the check that is derived from an airplane."""
    return assemble(derive(load_airplane(path)), Path("derived.yaml"), path.read_text("utf-8"), path).plan


PLANS = {
    **{name: load_parts(name).plan for name in CHECKS},
    **{f"derived from {path.stem}": derived_plan(path) for path in AIRPLANES},
}


def breaths_of(run: Run) -> list[str]:
    """Every breath of what the last step began to say, each after the end of the one before."""
    said = [effect.text for effect in run.effects if isinstance(effect, Say)]
    while run.machine.rest:
        run.breathe()
        said += [effect.text for effect in run.effects if isinstance(effect, Say)]
    return said


def test_the_cautions_are_told_one_breath_after_the_other() -> None:
    """All of them, and at the end what goes on; no answer is needed in between."""
    run = Run(LONG).start()
    breaths = breaths_of(run)
    assert len(breaths) > 2
    assert " ".join(breaths) == f"Sample reserve check. {' '.join(CAUTIONS)} Say continue."
    assert all(len(get_sentences(breath)) <= MOST_TASKS for breath in breaths)
    assert all(spoken_seconds(breath) <= LONGEST_SECONDS for breath in breaths)
    assert run.breathe().effects == (), "after the last breath nothing follows"


def test_the_cautions_can_be_cut_short() -> None:
    """`continue` counts in every breath."""
    run = Run(LONG).start().breathe().say(Word.CONTINUE)
    assert (run.state, run.said) == (State.ASKING, "FIT.")


def test_what_comes_into_the_cautions_loses_none_of_them() -> None:
    """The breath that was cut is said again, and the rest follows."""
    run = Run(LONG).start().breathe()
    cut = run.machine.last_said
    run.take(RoomGrewLoud(run.at, -9.0))
    assert run.said.startswith(f"Too loud to hear you. Use the keys. {cut}")
    assert run.said.endswith("Say continue.")


def test_say_again_in_a_later_breath_says_all_of_them() -> None:
    """SAY AGAIN: repeat all of your last transmission (ICAO Annex 10 Vol II 5.2.1.5.8)."""
    run = Run(LONG).start()
    whole = run.said
    assert run.breathe().say(Word.SAY_AGAIN).said == whole


def test_who_has_heard_the_cautions_gets_them_in_one_sentence_and_in_full_on_say_again() -> None:
    """They are shown in any case."""
    run = Run(replace(LONG, has_heard_cautions=True)).start()
    short = "The three cautions stand as before, say again for all."
    assert run.said == f"Sample reserve check. {short} Say continue."
    assert run.say(Word.SAY_AGAIN).said == f"Sample reserve check. {' '.join(CAUTIONS)} Say continue."


@pytest.mark.parametrize("count", [0, 1, 3, 5])
def test_open_squawks_are_told_before_the_first_item(count: int) -> None:
    """A sentence each, three at most, and how many more there are."""
    squawks = tuple(f"lamp {letter}, left out" for letter in "abcde"[:count])
    run = Run(replace(PLAN, open_squawks=squawks)).start()
    told = [sentence for sentence in get_sentences(run.said) if "lamp" in sentence]
    assert told == [f"Open squawk: {squawk}." for squawk in squawks[:3]]
    assert ("And two more." in run.said) == (count == 5)
    assert run.said.endswith("Say continue.")
    assert "lamp" not in run.say(Word.CONTINUE).said


def test_an_answer_in_an_early_breath_is_not_timed() -> None:
    """The question's own end starts the clock."""
    run = powered().say(Word.SPEAK_SLOWER)
    assert run.play().read("24.6", after=2.0).answer.origin.response_seconds == 2.0


def test_a_reading_back_is_marked_also_without_a_number() -> None:
    """So that the voice can slow it down, and nothing but it."""
    run = powered().read("24.6").pick("lamps", "left out")
    said = next(effect for effect in run.effects if isinstance(effect, Say))
    assert said.read_back == ("Squawk, left out.",)
    assert said.text == "Squawk, left out. RADIO."


def test_the_end_is_announced_with_its_first_breath() -> None:
    """The session waits for the last one."""
    run = begun().say(Word.ABANDON).say(Word.AFFIRM)
    assert run.state in FINAL
    kinds = [type(effect) for effect in run.effects]
    assert Finish in kinds


@pytest.mark.parametrize("name", PLANS)
def test_no_breath_of_a_shipped_or_derived_check_is_too_long(name: str) -> None:
    """Every run by the book, with every reason asked, first in full and then for who knows the cautions."""
    for has_heard in (False, True):
        squawks = ("flood lamps, left out", "left attitude gyro, flag stuck")
        run = Run(replace(PLANS[name], has_heard_cautions=has_heard, open_squawks=squawks)).start()
        said = breaths_of(run)
        while run.state not in FINAL:
            said += breaths_of(run.say(Word.WHY))
            answer_by_the_book(run)
            said += breaths_of(run)
        assert [text for text in said if spoken_seconds(text) > LONGEST_SECONDS] == []


@pytest.mark.parametrize("name", PLANS)
def test_no_sentence_of_a_shipped_or_derived_check_is_too_long(name: str) -> None:
    """Breaths are cut between sentences, so this bounds whatever can be said."""
    plan = PLANS[name]
    items = plan.check.items
    texts = [(each.text, each.is_read_back) for each in upcoming_prompts(plan)]
    texts += [(text, False) for item in items for text in (item.why.replace(WAY, ", "), item.remedy)]
    texts += [(f"{item.challenge}: {response.label}", True) for item in items for response in item.responses]
    long = [
        sentence
        for text, is_read_back in texts
        for sentence in get_clauses(text, is_read_back=is_read_back)
        if spoken_seconds(sentence, is_read_back=is_read_back) > LONGEST_SECONDS
    ]
    assert long == []
