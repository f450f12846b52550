"""The link between a drill and its instructor's page: states go one way, orders the other."""

from __future__ import annotations

import contextlib
import json
import threading
from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final

from runner.errors import EyesoutError
from runner.session.live.attendant import reason_of
from runner.session.live.inbox import Errand

THIS_COMPUTER: Final = "127.0.0.1"
"""Where a page is served unless more is asked for."""
ORDER_SECONDS: Final = 10.0
"""An order that is not done by then will be told of as late."""
NOT_BEGUN: Final = json.dumps({"is_begun": False})
Obey = Callable[[Mapping[str, Any]], None]
"""Does an order on the drill's thread; EyesoutError with what is wrong with it."""


class InstructorLink:
    """Used by the drill's thread and by the page's, each from its side."""

    def __init__(self) -> None:
        self.newest = NOT_BEGUN
        """The drill as it is now, as JSON in one line."""
        self.is_over = False
        """Nothing more will come."""
        self.known: tuple[Mapping[str, str], ...] = ()
        """Faults that can be put into this airplane."""
        self._changed = threading.Condition()
        self._wakes: set[Callable[[], object]] = set()
        self._is_signed = False
        self._send: Callable[[Errand], None] | None = None
        self._obey: Obey | None = None

    def begin(self, known: tuple[Mapping[str, str], ...], send: Callable[[Errand], None], obey: Obey) -> None:
        """The drill begins; orders are sent to its thread and obeyed there."""
        self.known, self._send, self._obey = known, send, obey

    def publish(self, state: Mapping[str, Any]) -> None:
        """This is how the drill is now. From the drill's thread."""
        self._tell(json.dumps(state, ensure_ascii=False), is_signed=state["signed"] is not None)

    def close(self) -> None:
        """The drill is over: pages are told, and their connections end."""
        self.is_over = True
        self._tell(self.newest, is_signed=self._is_signed)

    def order(self, order: Mapping[str, Any]) -> str:
        """Have an order done; what was wrong with it, or empty. From any thread but the drill's."""
        if self._send is None or self._obey is None:
            return "the drill has not begun yet"
        obey, wrong = self._obey, list[str]()

        def work() -> None:
            try:
                obey(order)
            except EyesoutError as error:
                wrong.append(str(error))
            except Exception as error:  # noqa: BLE001 - an order must not stop the drill
                wrong.append(reason_of(error))

        errand = Errand(work)
        self._send(errand)
        if not errand.is_done.wait(ORDER_SECONDS):
            return "the drill does not answer; the order may still be done"
        return wrong[0] if wrong else ""

    @contextlib.contextmanager
    def watched(self, wake: Callable[[], object]) -> Iterator[None]:
        """While this lasts, `wake` is called after each change. It must not wait."""
        with self._changed:
            self._wakes.add(wake)
        try:
            yield
        finally:
            with self._changed:
                self._wakes.discard(wake)
                self._changed.notify_all()

    @property
    def pages(self) -> int:
        """How many pages are looking."""
        return len(self._wakes)

    def wait_for_signature(self) -> bool:
        """Until the drill is signed off (True), or nobody looks any more."""
        with self._changed:
            self._changed.wait_for(lambda: self._is_signed or not self._wakes)
            return self._is_signed

    def _tell(self, newest: str, *, is_signed: bool) -> None:
        with self._changed:
            self.newest, self._is_signed = newest, is_signed
            for wake in tuple(self._wakes):
                with contextlib.suppress(RuntimeError):  # its loop has ended
                    wake()
            self._changed.notify_all()
