"""A gyro's flag: the phrases that end its clock, in force from power-on whatever is being asked."""

from runner.core.ask import prompt
from runner.core.ask.agenda import spin_up_of
from runner.core.event import Answered
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.record.entry import ClockEnded
from runner.core.record.spin_up_clock import seconds_between
from runner.language.meaning import Pulled, Stuck


def take_flag(moment: Moment, event: Answered, meaning: Pulled | Stuck) -> Reply | None:
    """The clock ends at the onset of the phrase; None where none is open, or stuck comes too early."""
    progress = moment.progress
    clock = next((clock for clock in progress.open_clocks if clock.item == meaning.item), None)
    if clock is None or event.onset_at < clock.started_at:
        return None
    is_pulled = isinstance(meaning, Pulled)
    if not is_pulled and not clock.is_limit_passed:
        return None
    _, body = spin_up_of(progress, clock)
    seconds = seconds_between(clock.started_at, event.onset_at)
    ended = ClockEnded(
        at=event.at,
        item=clock.item,
        seconds=seconds,
        is_pulled=is_pulled,
        outcome=body.outcome(seconds, is_pulled=is_pulled),
        reception=event.reception,
    )
    return Reply((ended,), read_back=prompt.clock_ended(progress, ended), reads_back=ended.item)
