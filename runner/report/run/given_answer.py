"""PURE: every answer that the items of a run got, with those that a correction superseded."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from runner.core.record.entry import Entry, PutOff
from runner.logbook.record.standing import StandingAnswer, answer_in, superseded_in


@dataclass(frozen=True, slots=True)
class GivenAnswer:
    """One answer of one item."""

    answer: StandingAnswer
    """What it says; `at` is the onset of speech, or when the flag pulled."""
    superseded_at: float | None = None
    """When it was reopened, or its gyro got power anew; None while it stands."""

    @property
    def stands(self) -> bool:
        """Whether no correction has taken it back."""
        return self.superseded_at is None


def answers_given(entries: Iterable[Entry]) -> Mapping[str, tuple[GivenAnswer, ...]]:
    """The answers of each item, oldest first; only the last one of an item can stand."""
    given: dict[str, list[GivenAnswer]] = {}
    for entry in entries:
        answer = answer_in(entry)
        if answer is not None:
            found = given.setdefault(answer.item, [])
            _supersede(found, entry.at)
            found.append(GivenAnswer(answer))
        elif (item := superseded_in(entry)) is not None:
            _supersede(given.get(item, []), entry.at)
    return {item: tuple(found) for item, found in given.items()}


def _supersede(found: list[GivenAnswer], at: float) -> None:
    if found and found[-1].stands:
        found[-1] = replace(found[-1], superseded_at=at)


def put_off_times(entries: Iterable[Entry]) -> Mapping[str, tuple[float, ...]]:
    """When each item was put off; items that never were are not in it."""
    times: dict[str, tuple[float, ...]] = {}
    for entry in entries:
        if isinstance(entry, PutOff):
            times[entry.item] = (*times.get(entry.item, ()), entry.at)
    return times
