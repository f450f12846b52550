"""The link: every change wakes who watches, orders come back with what was wrong, nothing stops a drill."""

import json
import threading

from runner.errors import UsageError
from runner.session.instructor.instructor_link import InstructorLink
from runner.session.live.inbox import Errand
from tests.session.instructor.beside import Beside


def test_nothing_can_be_ordered_before_a_drill_begins() -> None:
    """The page may be opened before."""
    link = InstructorLink()
    assert json.loads(link.newest) == {"is_begun": False}
    assert link.order({"order": "freeze"}) == "the drill has not begun yet"


def test_a_change_wakes_everybody_who_watches() -> None:
    """And nobody who has left."""
    drill, woken = Beside(), list[str]()
    with drill.link.watched(lambda: woken.append("a")):
        with drill.link.watched(lambda: woken.append("b")):
            assert drill.link.order({"order": "freeze"}) == ""
            assert sorted(woken) == ["a", "b"]
            assert drill.link.pages == 2
        drill.show()
    drill.show()
    assert sorted(woken) == ["a", "a", "b"]
    assert json.loads(drill.link.newest)["is_frozen"]


def test_an_order_that_fails_is_told_and_the_next_is_done() -> None:
    """Whether it was refused or eyesout has a mistake."""
    link, orders = InstructorLink(), list[object]()

    def obey(order: object) -> None:
        orders.append(order)
        if len(orders) == 1:
            raise UsageError("not so")
        if len(orders) == 2:
            raise ZeroDivisionError("by zero")

    link.begin((), Errand.run, obey)
    assert [link.order({}) for _ in range(3)] == ["not so", "ZeroDivisionError: by zero", ""]


def test_a_watcher_whose_loop_has_ended_harms_nobody() -> None:
    """The server's thread may die while its pages look."""

    def wake() -> None:
        raise RuntimeError("Event loop is closed")

    drill = Beside()
    with drill.link.watched(wake):
        assert drill.link.order({"order": "freeze"}) == ""


def test_the_signature_is_waited_for_while_somebody_looks() -> None:
    """True when it came; False once the last page has gone."""
    drill, done = Beside(), list[bool]()
    with drill.link.watched(lambda: None):
        waiting = threading.Thread(target=lambda: done.append(drill.link.wait_for_signature()))
        waiting.start()
        drill.link.order({"order": "sign", "by": "Bea", "is_met": True})
        waiting.join(20)
    assert done == [True]
    assert InstructorLink().wait_for_signature() is False


def test_an_errand_is_done_once() -> None:
    """Whoever comes first does it."""
    done = list[int]()
    errand = Errand(lambda: done.append(1))
    errand.run()
    errand.run()
    assert done == [1]
