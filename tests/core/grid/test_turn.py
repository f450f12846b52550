from dataclasses import replace

from runner.core.event import Answered, Channel, Misheard, Reason
from runner.core.grid.grid_reply import Moment
from runner.core.grid.table import FLAG, WORDS, step
from runner.core.grid.turn import Question, Turn
from runner.core.grid.turn import counts as counts_for
from runner.core.state import State
from runner.language.catalogue import Word
from runner.language.meaning import Command, Meaning, Picked, Pulled, Stuck
from tests.core.sample import begun

ITEM = Turn(7, Question(State.ASKING, "volts"), "VOLTS.")
SAME = Turn(6, Question(State.ASKING, "volts"), "VOLTS.")
OTHER = Turn(6, Question(State.ASKING, "fit"), "FIT.")


def answered(turn: int, meaning: Meaning) -> Answered:
    """Something said to a turn."""
    return Answered(0.0, turn, meaning, "said", 1.0, 0.0, Channel.VOICE)


def counts(event: Answered, turn: Turn, before: Turn | None) -> bool:
    """Whether it counts, by the row of the grid that it falls into."""
    word = event.meaning.word if isinstance(event.meaning, Command) else None
    row = FLAG if isinstance(event.meaning, (Pulled, Stuck)) else None if word is None else WORDS[word]
    return counts_for(event, turn, before, is_lasting=row is not None and row.is_lasting)


def test_an_answer_to_this_turn_counts() -> None:
    """Whatever it is."""
    assert counts(answered(7, Picked("volts", "x")), ITEM, OTHER)
    assert counts(answered(7, Command(Word.AFFIRM)), ITEM, None)


def test_an_answer_to_the_turn_before_counts_for_the_same_question() -> None:
    """A reminder came between."""
    assert counts(answered(6, Picked("volts", "x")), ITEM, SAME)
    assert counts(answered(6, Command(Word.UNABLE)), ITEM, SAME)


def test_an_answer_to_another_question_is_stale() -> None:
    """It would leave the wrong item undone."""
    assert not counts(answered(6, Picked("fit", "x")), ITEM, OTHER)
    for word in (Word.UNABLE, Word.PUT_OFF, Word.AFFIRM, Word.NEGATIVE, Word.CONTINUE):
        assert not counts(answered(6, Command(word)), ITEM, OTHER)


def test_flags_and_lasting_words_outlive_their_question_by_one_turn() -> None:
    """They mean the same whatever is asked."""
    assert counts(answered(6, Pulled("left")), ITEM, OTHER)
    assert counts(answered(6, Stuck("left")), ITEM, OTHER)
    for word in (Word.STANDBY, Word.CORRECTION, Word.ABANDON, Word.SAY_AGAIN):
        assert counts(answered(6, Command(word)), ITEM, OTHER)


def test_an_answer_to_any_breath_counts_for_the_transmission() -> None:
    """Where nothing is heard the breaths go by faster than a screen draws them."""
    turn = replace(ITEM, rest=("one", "two", "three"))
    for _ in range(3):
        turn = turn.next_breath()
    assert (turn.number, turn.first) == (10, 7)
    for number in range(7, 11):
        assert counts(answered(number, Command(Word.CONTINUE)), turn, OTHER)
    assert counts(answered(6, Command(Word.ABANDON)), turn, OTHER)
    assert not counts(answered(6, Command(Word.CONTINUE)), turn, OTHER)
    assert not counts(answered(11, Command(Word.CONTINUE)), turn, OTHER)


def test_anything_older_is_stale() -> None:
    """And so is what belongs to no turn."""
    assert not counts(answered(5, Pulled("left")), ITEM, OTHER)
    assert not counts(answered(6, Pulled("left")), ITEM, None)
    assert not counts(answered(8, Pulled("left")), ITEM, OTHER)


def test_a_failure_to_hear_counts_for_its_own_turn_only() -> None:
    """The reminder has asked again already."""
    moment = Moment(begun().machine.progress, State.ASKING, ITEM, SAME, 0)
    assert step(moment, Misheard(0.0, 7, Reason.UNKNOWN, None, 0.1))[0] is not None
    assert step(moment, Misheard(0.0, 6, Reason.UNKNOWN, None, 0.1))[0] is None
