"""What a run is told of earlier ones: cautions that its pilot knows, squawks open on its airplane."""

from dataclasses import replace

from runner.core.plan import Plan
from runner.errors import RecordError
from runner.language.digit import DIGITS, spell
from runner.logbook.list.run_list import answered_runs, registrations_of
from runner.logbook.record.header import RunHeader
from runner.logbook.record.record import header_of
from runner.logbook.record.record_shelf import Shelf
from runner.logbook.squawk.squawk_record import Squawk, SquawkState, squawks


def recall(shelf: Shelf, header: RunHeader, plan: Plan) -> Plan:
    """The plan with what the shelf's other runs add to it.

    Records that cannot be read add nothing: the cautions are then told in full.
    """
    return replace(
        plan,
        has_heard_cautions=_has_heard_cautions(shelf, header),
        open_squawks=tuple(squawk_words(squawk) for squawk in _open_squawks(shelf, header)),
    )


def squawk_words(squawk: Squawk) -> str:
    """The item and what was found, as it is spoken: `gear lamps, left out`, a number digit by digit."""
    is_number = bool(squawk.answer) and set(squawk.answer) <= set(DIGITS)
    found = f"{spell(squawk.answer)} {squawk.unit}" if is_number else squawk.answer
    return f"{squawk.item}, {found}"


def _has_heard_cautions(shelf: Shelf, header: RunHeader) -> bool:
    """This pilot has answered an item of exactly this text, so has said "continue" to its cautions.

    A pilot without a name is anyone, and invented runs were heard by nobody.
    """
    if not header.pilot:
        return False
    earlier = answered_runs(shelf, header.pilot, header.check)
    return any(_check_of(shelf, run) == header.check_sha256 for run in earlier if run != header.run)


def _check_of(shelf: Shelf, run: str) -> str:
    try:
        return header_of(shelf, run).check_sha256
    except RecordError:
        return ""


def _open_squawks(shelf: Shelf, header: RunHeader) -> list[Squawk]:
    """Squawks of this tail that are not closed, deferred ones as well, the newest first."""
    try:
        if header.registration not in registrations_of(shelf, header.registration):
            return []
        found = squawks(shelf, airplane=header.registration)
    except RecordError:
        return []
    return [
        squawk
        for squawk in reversed(found)
        if squawk.state is not SquawkState.CLOSED
        and squawk.registration == header.registration
        and squawk.run != header.run
    ]
