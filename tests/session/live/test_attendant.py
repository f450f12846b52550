"""One thread serves one port: its errors and its hanging are events, and what comes late is dropped."""

import threading
from collections.abc import Callable, Iterator

import pytest

from runner.core.event import Event, Port, PortBack, PortFailed
from runner.session.live.attendant import CALM_SECONDS, LIMIT_SECONDS, MOST_LOSSES, Attendant, reason_of

WAIT_SECONDS = 20.0


class _Time:
    """A clock that is set by hand."""

    def __init__(self) -> None:
        self.at = 1000.0

    def now(self) -> float:
        """As it was set."""
        return self.at

    def wait(self, happened: threading.Event, until: float) -> bool:
        """Not by this one."""
        raise NotImplementedError


class _Desk:
    """An attendant with what it told, and hands to make it fail."""

    def __init__(self) -> None:
        self.time, self.told = _Time(), list[Event]()
        self.attendant = Attendant(Port.EAR, self.time, self.told.append)
        self.done: list[str] = []

    def rest(self) -> None:
        """Wait until all that was asked is done."""
        passed = threading.Event()
        self.attendant.after(passed.set)
        assert passed.wait(WAIT_SECONDS)

    def serve(self) -> None:
        """A call that comes back well."""
        self.attendant.ask(lambda: lambda: self.done.append("served"), lambda: self.done.append("missed"))
        self.rest()

    def fail(self) -> None:
        """A call that raises."""

        def work() -> Callable[[], None]:
            raise KeyError(7)

        self.attendant.ask(work, lambda: self.done.append("missed"))
        self.rest()


@pytest.fixture
def desk() -> Iterator[_Desk]:
    """Closed afterwards."""
    made = _Desk()
    yield made
    assert made.attendant.close()


def test_what_is_done_in_time_is_finished_and_not_told(desk: _Desk) -> None:
    """The ordinary case."""
    desk.serve()
    assert (desk.done, desk.told) == (["served"], [])


def test_an_error_is_told_once_and_the_thread_lives_on(desk: _Desk) -> None:
    """What is done instead is done each time."""
    desk.fail()
    desk.fail()
    assert desk.told == [PortFailed(1000.0, Port.EAR, "KeyError: 7")]
    assert desk.done == ["missed", "missed"]
    desk.serve()
    assert desk.done[-1] == "served"


def test_it_is_back_when_a_call_comes_back_well_after_a_calm(desk: _Desk) -> None:
    """Not sooner, so that it does not come and go with every call."""
    desk.fail()
    desk.time.at += CALM_SECONDS - 0.1
    desk.serve()
    assert len(desk.told) == 1
    desk.time.at += 0.2
    desk.serve()
    assert desk.told[1:] == [PortBack(desk.time.at, Port.EAR)]
    assert not desk.attendant.is_lost


def test_after_many_losses_it_is_not_believed_any_more(desk: _Desk) -> None:
    """It stays lost."""
    for _ in range(MOST_LOSSES + 3):
        desk.fail()
        desk.time.at += CALM_SECONDS
        desk.serve()
    assert sum(isinstance(event, PortFailed) for event in desk.told) == MOST_LOSSES
    assert desk.attendant.is_lost


def test_a_call_that_hangs_is_given_up_and_its_late_return_is_dropped(desk: _Desk) -> None:
    """The run goes on meanwhile; what comes late says only that the port answers again."""
    begun, gate = threading.Event(), threading.Event()

    def work() -> Callable[[], None]:
        begun.set()
        assert gate.wait(WAIT_SECONDS)
        return lambda: desk.done.append("late")

    desk.attendant.ask(work, lambda: desk.done.append("missed"))
    assert begun.wait(WAIT_SECONDS)
    desk.attendant.look(1000.0 + LIMIT_SECONDS - 0.1)
    assert not desk.attendant.is_stuck
    desk.time.at = 1000.0 + LIMIT_SECONDS
    desk.attendant.look(desk.time.at)
    desk.attendant.look(desk.time.at + 1.0)
    assert desk.attendant.is_stuck
    assert desk.told == [PortFailed(desk.time.at, Port.EAR, "no answer for 5 s")]
    assert desk.done == ["missed"]
    desk.time.at += CALM_SECONDS
    gate.set()
    desk.rest()
    assert desk.done == ["missed"]
    assert desk.told[1:] == [PortBack(desk.time.at, Port.EAR)]
    assert not desk.attendant.is_stuck


def test_an_error_that_comes_late_is_not_told_twice(desk: _Desk) -> None:
    """It was given up already."""
    begun, gate = threading.Event(), threading.Event()

    def work() -> None:
        begun.set()
        assert gate.wait(WAIT_SECONDS)
        raise OSError(5, "late")

    desk.attendant.ask(work, lambda: desk.done.append("missed"))
    assert begun.wait(WAIT_SECONDS)
    desk.attendant.look(1000.0 + LIMIT_SECONDS)
    gate.set()
    desk.rest()
    assert desk.done == ["missed"]
    assert len(desk.told) == 1


def test_one_that_was_asked_nothing_closes_as_well() -> None:
    """It has no thread yet."""
    assert _Desk().attendant.close()


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (KeyError(3), "KeyError: 3"),
        (OSError(28, "No space left on device"), "OSError: [Errno 28] No space left on device"),
        (ValueError("two\nlines \x1b[31mred"), "ValueError: two lines [31mred"),
        (RuntimeError(), "RuntimeError"),
    ],
)
def test_a_reason_is_one_line_that_no_terminal_obeys(error: Exception, words: str) -> None:
    """It goes on the screen and into the record."""
    assert reason_of(error) == words


def test_a_reason_is_short() -> None:
    """A library may print a page."""
    assert len(reason_of(ValueError("x" * 1000))) == 160
