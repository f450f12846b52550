"""The run as a screen or a session sees it: what is asked, what may be answered, what is still open."""

from collections.abc import Iterator
from dataclasses import dataclass

from runner.checklist.format.check import Item, Response, Section
from runner.checklist.kind.numbered import Numbered
from runner.checklist.kind.spin_up import SpinUp
from runner.core.ask import prompt
from runner.core.ask.agenda import frontier_of, item_at_hand, item_in_force, spin_up_of, state_of
from runner.core.ask.phrases_now import phrases_in_force
from runner.core.ask.taken_back import corrected_item
from runner.core.event import Channel
from runner.core.record.danger_stop import Stop
from runner.core.record.progress import Progress
from runner.core.record.spin_up_clock import SpinUpClock
from runner.core.state import State
from runner.language.catalogue import Outcome
from runner.language.force import InForce
from runner.language.meaning import Corrected, Meaning, Picked, Pulled, Stuck


@dataclass(frozen=True, slots=True)
class Possible:
    """One named answer that counts now."""

    response: Response
    """Its label, key and outcome."""
    meaning: Meaning


@dataclass(frozen=True, slots=True)
class OpenClock:
    """A running spin-up clock with its item and limits; `clock.elapsed(at)` gives the seconds."""

    item: Item
    body: SpinUp
    clock: SpinUpClock
    answers: tuple[Possible, ...]
    """Pulled, and from the limit on stuck."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """One moment of a run, without the time of day."""

    state: State
    item: Item | None
    """The item asked, or the reading that waits for confirmation, or the one that a hold interrupts."""
    section: Section | None
    number: int
    """Position of the item among all items, from 1; 0 when there is none."""
    done: int
    """Items answered, ended or declared unable."""
    total: int
    """Items of the check, less those that the answers rule out."""
    question: str
    """What is asked, as it is spoken: a challenge, a confirmation, what is waited for."""
    answers: tuple[Possible, ...]
    """Named answers to the item at hand, at a stop only those that are taken; empty for a reading."""
    gauge: Numbered | None
    """The number at hand, for number entry."""
    clocks: tuple[OpenClock, ...]
    put_off: tuple[Item, ...]
    in_force: InForce
    channel: Channel
    stop: Stop | None
    """What the run is stopped by, also while it asks back what was moved, or is held."""
    squawks: int
    cautions: int
    stops: int
    """Stops so far, remedied or not."""
    corrected: Item | None
    """The item whose new answer may follow the word "correction" in one breath."""
    corrections: tuple[Possible, ...]
    """Its named answers, each as a correction."""


def outlook_of(progress: Progress) -> Outlook:
    """The outlook of a run at this point of its record."""
    check = progress.plan.check
    at_hand = item_at_hand(progress)
    item = at_hand or item_in_force(progress)
    frontier = frontier_of(progress)
    stops = [stop for stop in progress.stops if stop.withdrawn_at is None]
    corrected = corrected_item(progress)
    return Outlook(
        state=state_of(progress),
        item=item,
        section=None if item is None else check.section_of(item.name),
        number=0 if item is None else check.number(item.name) + 1,
        done=frontier.done,
        total=len(check.items) - len(frontier.left_out),
        question=prompt.question(progress),
        answers=() if at_hand is None else _possible(at_hand, is_stopped=state_of(progress) is State.STOPPED),
        gauge=None if at_hand is None else at_hand.body.number,
        clocks=tuple(_open_clocks(progress)),
        put_off=tuple(check.item(name) for name in progress.put_off),
        in_force=phrases_in_force(progress),
        channel=progress.channel,
        stop=progress.stop,
        squawks=frontier.squawks + sum(stop.squawked_at is not None for stop in progress.stops),
        cautions=frontier.cautions,
        stops=len(stops),
        corrected=corrected,
        corrections=() if corrected is None else tuple(_corrections(corrected)),
    )


def _possible(item: Item, *, is_stopped: bool) -> tuple[Possible, ...]:
    return tuple(
        Possible(response, Picked(item.name, response.label))
        for response in item.responses
        if not (is_stopped and response.outcome is Outcome.SQUAWK)
    )


def _corrections(item: Item) -> Iterator[Possible]:
    for response in item.responses:
        yield Possible(response, Corrected(Picked(item.name, response.label)))


def _open_clocks(progress: Progress) -> Iterator[OpenClock]:
    for clock in progress.open_clocks:
        item, body = spin_up_of(progress, clock)
        pulled = Possible(body.pulled, Pulled(item.name))
        stuck = Possible(body.stuck, Stuck(item.name))
        yield OpenClock(item, body, clock, (pulled, stuck) if clock.is_limit_passed else (pulled,))
