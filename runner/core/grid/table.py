"""THE transition table of a run: for every state and every event, what is done and where that may lead.

It is complete: no transition happens outside of it. The state after a row follows from the entries that
the row put on record (`agenda.state_of`), and `Machine.handle` checks it against the row's targets.
The table is drawn by `drawing.py`; a state that ignores an event says so with IGNORE.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

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
from runner.core.grid.asking import take_answer, take_briefing_word
from runner.core.grid.confirming import take_confirmation
from runner.core.grid.failing import (
    lose_port,
    lose_port_in_note,
    lose_port_silently,
    regain_port,
    regain_port_silently,
)
from runner.core.grid.grid_reply import Action
from runner.core.grid.holding import take_release
from runner.core.grid.noting import end_note, take_flag_silently
from runner.core.grid.starting import reopen_run, start, tell_end
from runner.core.grid.stopping import take_remedy
from runner.core.grid.world_event import (
    ask_again,
    change_input,
    change_input_silently,
    hear_out,
    tick,
    tick_silently,
)
from runner.core.state import State


@dataclass(frozen=True, slots=True)
class Row:
    """What one state does with one event."""

    action: Action | None
    targets: frozenset[State]
    """States that it may lead to; the same state when the action finds nothing to do."""


IGNORE: Final = Row(None, frozenset())


def _row(action: Action, *targets: State) -> Row:
    return Row(action, frozenset(targets))


TRANSITIONS: Final[Mapping[State, Mapping[type[Event], Row]]] = {
    State.READY: {
        Started: _row(start, State.BRIEFING),
        Answered: IGNORE,
        Misheard: IGNORE,
        PlaybackEnded: IGNORE,
        Ticked: IGNORE,
        RoomGrewLoud: _row(change_input_silently, State.READY),
        RoomGrewQuiet: _row(change_input_silently, State.READY),
        MicLost: _row(change_input_silently, State.READY),
        MicBack: _row(change_input_silently, State.READY),
        NoteEnded: IGNORE,
        PortFailed: _row(lose_port_silently, State.READY),
        PortBack: _row(regain_port_silently, State.READY),
    },
    State.BRIEFING: {
        Started: _row(reopen_run, State.BRIEFING),
        Answered: _row(take_briefing_word, State.BRIEFING, State.ASKING, State.CONFIRMING, State.HOLDING),
        Misheard: _row(ask_again, State.BRIEFING),
        PlaybackEnded: _row(hear_out, State.BRIEFING),
        Ticked: _row(tick, State.BRIEFING),
        RoomGrewLoud: _row(change_input, State.BRIEFING),
        RoomGrewQuiet: _row(change_input, State.BRIEFING),
        MicLost: _row(change_input, State.BRIEFING),
        MicBack: _row(change_input, State.BRIEFING),
        NoteEnded: IGNORE,
        PortFailed: _row(lose_port, State.BRIEFING),
        PortBack: _row(regain_port, State.BRIEFING),
    },
    State.ASKING: {
        Started: _row(reopen_run, State.ASKING, State.WAITING, State.CONFIRMING),
        Answered: _row(
            take_answer,
            State.ASKING,
            State.CONFIRMING,
            State.STOPPED,
            State.WAITING,
            State.HOLDING,
            State.NOTING,
            State.RESTORING,
            State.COMPLETE,
        ),
        Misheard: _row(ask_again, State.ASKING),
        PlaybackEnded: _row(hear_out, State.ASKING),
        Ticked: _row(tick, State.ASKING),
        RoomGrewLoud: _row(change_input, State.ASKING),
        RoomGrewQuiet: _row(change_input, State.ASKING),
        MicLost: _row(change_input, State.ASKING),
        MicBack: _row(change_input, State.ASKING),
        NoteEnded: IGNORE,
        PortFailed: _row(lose_port, State.ASKING),
        PortBack: _row(regain_port, State.ASKING),
    },
    State.CONFIRMING: {
        Started: _row(reopen_run, State.CONFIRMING),
        Answered: _row(
            take_confirmation,
            State.CONFIRMING,
            State.BRIEFING,
            State.ASKING,
            State.STOPPED,
            State.WAITING,
            State.HOLDING,
            State.NOTING,
            State.RESTORING,
            State.ABANDONED,
        ),
        Misheard: _row(ask_again, State.CONFIRMING),
        PlaybackEnded: _row(hear_out, State.CONFIRMING),
        Ticked: _row(tick, State.CONFIRMING),
        RoomGrewLoud: _row(change_input, State.CONFIRMING),
        RoomGrewQuiet: _row(change_input, State.CONFIRMING),
        MicLost: _row(change_input, State.CONFIRMING),
        MicBack: _row(change_input, State.CONFIRMING),
        NoteEnded: IGNORE,
        PortFailed: _row(lose_port, State.CONFIRMING),
        PortBack: _row(regain_port, State.CONFIRMING),
    },
    State.STOPPED: {
        Started: _row(reopen_run, State.STOPPED, State.CONFIRMING),
        Answered: _row(
            take_remedy,
            State.STOPPED,
            State.ASKING,
            State.CONFIRMING,
            State.WAITING,
            State.HOLDING,
            State.NOTING,
            State.RESTORING,
            State.COMPLETE,
        ),
        Misheard: _row(ask_again, State.STOPPED),
        PlaybackEnded: _row(hear_out, State.STOPPED),
        Ticked: _row(tick, State.STOPPED),
        RoomGrewLoud: _row(change_input, State.STOPPED),
        RoomGrewQuiet: _row(change_input, State.STOPPED),
        MicLost: _row(change_input, State.STOPPED),
        MicBack: _row(change_input, State.STOPPED),
        NoteEnded: IGNORE,
        PortFailed: _row(lose_port, State.STOPPED),
        PortBack: _row(regain_port, State.STOPPED),
    },
    State.WAITING: {
        Started: _row(reopen_run, State.WAITING, State.COMPLETE, State.CONFIRMING),
        Answered: _row(
            take_answer, State.WAITING, State.ASKING, State.CONFIRMING, State.HOLDING, State.NOTING
        ),
        Misheard: _row(ask_again, State.WAITING),
        PlaybackEnded: _row(hear_out, State.WAITING),
        Ticked: _row(tick, State.WAITING),
        RoomGrewLoud: _row(change_input, State.WAITING),
        RoomGrewQuiet: _row(change_input, State.WAITING),
        MicLost: _row(change_input, State.WAITING),
        MicBack: _row(change_input, State.WAITING),
        NoteEnded: IGNORE,
        PortFailed: _row(lose_port, State.WAITING),
        PortBack: _row(regain_port, State.WAITING),
    },
    State.HOLDING: {
        Started: _row(
            reopen_run,
            State.BRIEFING,
            State.ASKING,
            State.CONFIRMING,
            State.STOPPED,
            State.WAITING,
            State.RESTORING,
        ),
        Answered: _row(
            take_release,
            State.HOLDING,
            State.BRIEFING,
            State.ASKING,
            State.CONFIRMING,
            State.STOPPED,
            State.WAITING,
            State.RESTORING,
        ),
        Misheard: IGNORE,
        PlaybackEnded: _row(hear_out, State.HOLDING),
        Ticked: _row(tick, State.HOLDING),
        RoomGrewLoud: _row(change_input_silently, State.HOLDING),
        RoomGrewQuiet: _row(change_input_silently, State.HOLDING),
        MicLost: _row(change_input_silently, State.HOLDING),
        MicBack: _row(change_input_silently, State.HOLDING),
        NoteEnded: IGNORE,
        PortFailed: _row(lose_port_silently, State.HOLDING),
        PortBack: _row(regain_port_silently, State.HOLDING),
    },
    State.NOTING: {
        Started: _row(
            reopen_run, State.ASKING, State.CONFIRMING, State.STOPPED, State.WAITING, State.RESTORING
        ),
        Answered: _row(take_flag_silently, State.NOTING),
        Misheard: IGNORE,
        PlaybackEnded: _row(hear_out, State.NOTING),
        Ticked: _row(tick_silently, State.NOTING),
        RoomGrewLoud: _row(change_input_silently, State.NOTING),
        RoomGrewQuiet: _row(change_input_silently, State.NOTING),
        MicLost: _row(change_input_silently, State.NOTING),
        MicBack: _row(change_input_silently, State.NOTING),
        NoteEnded: _row(
            end_note, State.ASKING, State.CONFIRMING, State.STOPPED, State.WAITING, State.RESTORING
        ),
        PortFailed: _row(
            lose_port_in_note,
            State.NOTING,
            State.ASKING,
            State.CONFIRMING,
            State.STOPPED,
            State.WAITING,
            State.RESTORING,
        ),
        PortBack: _row(regain_port_silently, State.NOTING),
    },
    State.RESTORING: {
        Started: _row(reopen_run, State.RESTORING, State.ABANDONED, State.CONFIRMING),
        Answered: _row(
            take_answer,
            State.RESTORING,
            State.ASKING,
            State.CONFIRMING,
            State.STOPPED,
            State.HOLDING,
            State.NOTING,
            State.ABANDONED,
        ),
        Misheard: _row(ask_again, State.RESTORING),
        PlaybackEnded: _row(hear_out, State.RESTORING),
        Ticked: _row(tick, State.RESTORING),
        RoomGrewLoud: _row(change_input, State.RESTORING),
        RoomGrewQuiet: _row(change_input, State.RESTORING),
        MicLost: _row(change_input, State.RESTORING),
        MicBack: _row(change_input, State.RESTORING),
        NoteEnded: IGNORE,
        PortFailed: _row(lose_port, State.RESTORING),
        PortBack: _row(regain_port, State.RESTORING),
    },
    State.COMPLETE: {
        Started: _row(tell_end, State.COMPLETE),
        Answered: IGNORE,
        Misheard: IGNORE,
        PlaybackEnded: _row(hear_out, State.COMPLETE),
        Ticked: IGNORE,
        RoomGrewLoud: IGNORE,
        RoomGrewQuiet: IGNORE,
        MicLost: IGNORE,
        MicBack: IGNORE,
        NoteEnded: IGNORE,
        PortFailed: IGNORE,
        PortBack: IGNORE,
    },
    State.ABANDONED: {
        Started: _row(tell_end, State.ABANDONED),
        Answered: IGNORE,
        Misheard: IGNORE,
        PlaybackEnded: _row(hear_out, State.ABANDONED),
        Ticked: IGNORE,
        RoomGrewLoud: IGNORE,
        RoomGrewQuiet: IGNORE,
        MicLost: IGNORE,
        MicBack: IGNORE,
        NoteEnded: IGNORE,
        PortFailed: IGNORE,
        PortBack: IGNORE,
    },
}
