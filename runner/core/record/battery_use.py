"""What a check takes from the battery: amperes of each selector position times the hours spent there."""

from itertools import pairwise

from runner.core.record.progress import Progress

SECONDS_PER_HOUR = 3600.0


def ampere_hours(progress: Progress, at: float) -> float:
    """Used from the first answer that moved the selector up to `at`, or to the end of the run.

    A position that the plan has no figure for counts nothing.
    """
    end = at if progress.ended is None else min(at, progress.ended.at)
    changes = [*((held.at, held.position) for held in progress.positions), (end, "")]
    return sum(
        progress.plan.battery_amps.get(position, 0.0) * max(0.0, min(until, end) - since) / SECONDS_PER_HOUR
        for (since, position), (until, _) in pairwise(changes)
    )


def share_used(progress: Progress, at: float) -> float:
    """Used part of the usable ampere-hours, 0 and up; 0 when the plan knows of none."""
    usable = progress.plan.usable_ampere_hours
    return ampere_hours(progress, at) / usable if usable > 0 else 0.0


def owes_warning(progress: Progress, at: float) -> bool:
    """True when the plan's share is reached and the run has not yet warned."""
    return progress.battery_warning is None and share_used(progress, at) >= progress.plan.warn_share > 0
