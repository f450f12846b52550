"""THE machine: what each state does with each event, each answer and each standard word, and where it leads.

It is complete: no step happens outside of it. The state after a step follows from the entries that its act
put on record (`agenda.state_of`), and `Machine.handle` checks it against the cell's targets. A state listens
for the words of whose rows it has a cell: the phrases in force, the keys and the help are made from that.
`drawing.py` draws it for DEVELOPERS.md.
"""

from collections.abc import Mapping
from typing import Final

from runner.core.ask.flag import take_flag
from runner.core.ask.taken_answer import correct_at_once, take_pick, take_value
from runner.core.event import (
    Answered,
    Event,
    MicBack,
    MicLost,
    Misheard,
    NoteEnded,
    PlaybackEnded,
    PortBack,
    PortFailed,
    RoomGrewLoud,
    RoomGrewQuiet,
    Started,
    Ticked,
)
from runner.core.grid import failing, starting, word, world_event
from runner.core.grid.grid_cell import (
    IGNORED,
    AnswerAct,
    AnswerRow,
    Cell,
    EventRow,
    Relative,
    heard,
    in_states,
    silently,
    to,
)
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.state import FINAL, State
from runner.language.catalogue import Word
from runner.language.meaning import Command, Corrected, Picked, Pulled, Stuck, Value

SAME, WHAT_WAS_ASKED, NEXT = Relative.SAME, Relative.WHAT_WAS_ASKED, Relative.NEXT
READY, BRIEFING, ASKING, CONFIRMING = State.READY, State.BRIEFING, State.ASKING, State.CONFIRMING
STOPPED, WAITING, HOLDING, NOTING = State.STOPPED, State.WAITING, State.HOLDING, State.NOTING
RESTORING, COMPLETE, ABANDONED = State.RESTORING, State.COMPLETE, State.ABANDONED

CHECKING: Final = (ASKING, CONFIRMING, STOPPED, WAITING, RESTORING)
"""States in which the check goes on: something is asked or waited for."""
TALKING: Final = (BRIEFING, *CHECKING)
QUIET: Final = (READY, HOLDING, NOTING)
"""States into which nothing is spoken that can wait."""

STARTED: Final = EventRow(
    (Started,),
    in_states(
        ([READY], to(starting.start, BRIEFING)),
        ([BRIEFING, CONFIRMING], to(starting.reopen_run, SAME)),
        ([ASKING], to(starting.reopen_run, NEXT, CONFIRMING)),
        ([STOPPED], to(starting.reopen_run, SAME, CONFIRMING)),
        ([WAITING], to(starting.reopen_run, SAME, CONFIRMING, COMPLETE)),
        ([HOLDING, NOTING], to(starting.reopen_run, WHAT_WAS_ASKED, CONFIRMING)),
        ([RESTORING], to(starting.reopen_run, SAME, CONFIRMING, ABANDONED)),
        (FINAL, to(starting.tell_end, SAME)),
    ),
)
MISHEARD: Final = EventRow(
    (Misheard,), in_states((State, IGNORED), (TALKING, to(world_event.ask_again, SAME)))
)
PLAYBACK_ENDED: Final = EventRow(
    (PlaybackEnded,), in_states((State, to(world_event.hear_out, SAME)), ([READY], IGNORED))
)
TICKED: Final = EventRow(
    (Ticked,),
    in_states(
        ([READY, BRIEFING, *FINAL], IGNORED),
        ([ASKING, CONFIRMING, STOPPED, RESTORING], to(world_event.tick, SAME)),
        ([WAITING, HOLDING], to(world_event.tick_clocks, SAME)),
        ([NOTING], to(silently(world_event.tick_clocks), SAME)),
    ),
)
INPUT_CHANGED: Final[EventRow[world_event.WorldEvent]] = EventRow(
    (RoomGrewLoud, RoomGrewQuiet, MicLost, MicBack),
    in_states(
        (TALKING, to(world_event.change_input, SAME)),
        (QUIET, to(silently(world_event.change_input), SAME)),
        (FINAL, IGNORED),
    ),
)
NOTE_ENDED: Final = EventRow(
    (NoteEnded,), in_states((State, IGNORED), ([NOTING], to(world_event.end_note, WHAT_WAS_ASKED)))
)
PORT_FAILED: Final = EventRow(
    (PortFailed,),
    in_states(
        (TALKING, to(failing.lose_port, SAME)),
        (QUIET, to(silently(failing.lose_port), SAME)),
        ([NOTING], to(failing.lose_port_in_note, SAME, WHAT_WAS_ASKED)),
        (FINAL, IGNORED),
    ),
)
PORT_BACK: Final = EventRow(
    (PortBack,),
    in_states(
        (TALKING, to(failing.regain_port, SAME)),
        (QUIET, to(silently(failing.regain_port), SAME)),
        (FINAL, IGNORED),
    ),
)

PICKED: Final[AnswerRow[Picked]] = heard(
    ([ASKING], to(take_pick, NEXT, STOPPED, COMPLETE)),
    ([STOPPED], to(take_pick, SAME, NEXT, RESTORING)),
    ([RESTORING], to(take_pick, SAME, STOPPED, ABANDONED)),
)
VALUE: Final[AnswerRow[Value]] = heard(
    ([ASKING], to(take_value, NEXT, CONFIRMING, STOPPED, RESTORING)),
    ([CONFIRMING], to(take_value, SAME, NEXT, STOPPED, RESTORING)),
    ([STOPPED], to(take_value, SAME, NEXT, CONFIRMING, RESTORING)),
)
FLAG: Final[AnswerRow[Pulled | Stuck]] = heard(
    ([*CHECKING, HOLDING], to(take_flag, SAME)),
    ([WAITING], to(take_flag, NEXT)),
    ([NOTING], to(silently(take_flag), SAME)),
    is_lasting=True,
)
CORRECTED: Final[AnswerRow[Corrected]] = heard(
    ([ASKING, WAITING], to(correct_at_once, NEXT, CONFIRMING, STOPPED, RESTORING)),
    ([RESTORING], to(correct_at_once, SAME, NEXT, CONFIRMING, STOPPED)),
    ([STOPPED], to(correct_at_once, SAME, NEXT, CONFIRMING, RESTORING)),
    ([CONFIRMING], to(correct_at_once, SAME, NEXT, STOPPED, RESTORING)),
    is_lasting=True,
)

DENIED: Final[AnswerRow[Word]] = heard(
    ([ASKING, WAITING], to(word.deny, NEXT)),
    ([RESTORING], to(word.deny, SAME, NEXT)),
    ([STOPPED], to(word.deny, SAME, NEXT, RESTORING)),
    ([CONFIRMING], to(word.drop, WHAT_WAS_ASKED)),
)
WORDS: Final[Mapping[Word, AnswerRow[Word]]] = {
    Word.SAY_AGAIN: heard(
        ([*CHECKING, HOLDING], to(word.say_again, SAME)),
        ([BRIEFING], to(word.say_all_cautions, SAME)),
        is_lasting=True,
    ),
    Word.STANDBY: heard((TALKING, to(word.hold, HOLDING)), is_lasting=True),
    Word.CONTINUE: heard(
        (CHECKING, to(word.answer_nothing, SAME)),
        ([BRIEFING], to(word.take_cautions, ASKING)),
        ([STOPPED], to(word.retry, SAME, NEXT)),
        ([HOLDING], to(word.release, WHAT_WAS_ASKED)),
    ),
    Word.CORRECTION: heard(
        ([ASKING, WAITING], to(word.correct, NEXT)),
        ([RESTORING], to(word.correct, SAME, NEXT)),
        ([STOPPED], to(word.correct, SAME, NEXT, RESTORING)),
        ([CONFIRMING], to(word.drop, WHAT_WAS_ASKED)),
        is_lasting=True,
    ),
    **dict.fromkeys((Word.DISREGARD, Word.NEGATIVE), DENIED),
    Word.AFFIRM: heard(
        (CHECKING, to(word.answer_nothing, SAME)),
        ([CONFIRMING], to(word.affirm, WHAT_WAS_ASKED, NEXT, RESTORING, ABANDONED)),
    ),
    Word.CONFIRM: heard((CHECKING, to(word.confirm, SAME)), ([CONFIRMING], to(word.repeat_question, SAME))),
    Word.UNABLE: heard(
        ([ASKING], to(word.declare_unable, NEXT)),
        ([WAITING, RESTORING], to(word.declare_unable, SAME)),
        ([CONFIRMING], to(word.answer_nothing, SAME)),
        ([STOPPED], to(word.refuse, SAME)),
    ),
    Word.READ_BACK: heard((CHECKING, to(word.read_back, SAME))),
    Word.ROGER: heard((TALKING, to(word.answer_nothing, SAME))),
    Word.WHY: heard((CHECKING, to(word.explain, SAME))),
    Word.NOTE: heard((CHECKING, to(word.start_note, NOTING))),
    Word.PUT_OFF: heard(
        ([ASKING, WAITING, RESTORING], to(word.put_off, SAME)),
        ([CONFIRMING], to(word.answer_nothing, SAME)),
        ([STOPPED], to(word.refuse, SAME)),
    ),
    Word.ABANDON: heard(
        (TALKING, to(word.ask_abandon, CONFIRMING)),
        ([RESTORING], to(word.ask_abandon, SAME, CONFIRMING)),
        ([HOLDING], to(word.release_and_ask_abandon, CONFIRMING, WHAT_WAS_ASKED)),
        is_lasting=True,
    ),
    Word.SQUAWK: heard(([STOPPED], to(word.squawk_stop, SAME))),
    Word.SPEAK_SLOWER: heard((TALKING, to(word.speak_slower, SAME))),
    Word.WORDS_TWICE: heard((TALKING, to(word.say_twice, SAME))),
}
"""A state that has no cell does not listen for the word."""

UNHEARD: Final[Mapping[State, Cell[AnswerAct[Word]]]] = in_states(
    (State, IGNORED), (TALKING, to(word.answer_nothing, SAME))
)
"""What is done with a word that the state does not listen for: one turn before it may have counted."""

WORDS_IN_FORCE: Final[Mapping[State, tuple[Word, ...]]] = {
    state: tuple(each for each, row in WORDS.items() if state in row.cells) for state in State
}
"""The words that each state listens for; the fewer, the less talk is taken that is not for the tool."""

EVENTS: Final = {
    kind: row
    for row in (
        *(STARTED, MISHEARD, PLAYBACK_ENDED, TICKED),
        *(INPUT_CHANGED, NOTE_ENDED, PORT_FAILED, PORT_BACK),
    )
    for kind in row.kinds
}


def step(moment: Moment, event: Event) -> tuple[Reply | None, Cell[object]]:
    """What the grid does with an event, None when that is nothing, and the cell that says so."""
    if not isinstance(event, Answered):
        return EVENTS[type(event)].step(moment, event)
    match event.meaning:
        case Command(word=said):
            return WORDS[said].step(moment, event, said, UNHEARD[moment.state])
        case Picked() as said:
            return PICKED.step(moment, event, said)
        case Value() as said:
            return VALUE.step(moment, event, said)
        case Corrected() as said:
            return CORRECTED.step(moment, event, said)
        case said:
            return FLAG.step(moment, event, said)
