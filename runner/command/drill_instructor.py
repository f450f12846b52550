"""`eyesout drill CHECK --instructor`: the page beside a drill, from its address to the signature."""

from __future__ import annotations

import argparse
import secrets
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any, Final, TextIO

from runner.command.terminal import LiveRun
from runner.core.event import Answered
from runner.drill.drill_desk import DrillDesk
from runner.drill.drill_event import DrillEvent
from runner.errors import UsageError
from runner.logbook.drilled.drill_book import DrillHandle
from runner.session.instructor.instructor_link import THIS_COMPUTER, InstructorLink
from runner.session.instructor.instructor_order import ordered_event, trippable
from runner.session.instructor.instructor_state import InstructorTimeline, instructor_state
from runner.session.live.attendant import reason_of
from runner.session.live.inbox import Errand

TOKEN_BYTES: Final = 16
"""128 bits of chance: nobody guesses the address."""


@contextmanager
def instructor_beside(arguments: argparse.Namespace, out: TextIO) -> Iterator[InstructorSide | None]:
    """The instructor's side of a drill while this lasts; None where no page is wanted."""
    if not arguments.instructor:
        if arguments.host is not None or arguments.port is not None:
            raise UsageError("--host and --port are for the instructor's page; add --instructor")
        yield None
        return
    try:
        from runner.session.instructor.page_address import (  # noqa: PLC0415 - an optional extra
            address_code,
            page_address,
            who_reaches,
        )
        from runner.session.instructor.page_app import page_app  # noqa: PLC0415
        from runner.session.instructor.page_server import PageServer, listen_at  # noqa: PLC0415
    except ImportError:
        raise UsageError(
            'the instructor\'s page needs more libraries: pip install "eyesout[instructor]"'
        ) from None
    host, token = arguments.host or THIS_COMPUTER, secrets.token_urlsafe(TOKEN_BYTES)
    listening = listen_at(host, arguments.port or 0)
    address = page_address(host, listening.getsockname()[1], token)
    side = InstructorSide(InstructorLink())
    server = PageServer(page_app(side.link, token), listening, side.page_died)
    try:
        out.write(f"{address_code(address)}\n")
        out.write(f"instructor's page, for {who_reaches(host)}: {address}\n")
        _let_scan(arguments, out)
        yield side
    finally:
        side.link.close()
        server.close()


def _let_scan(arguments: argparse.Namespace, out: TextIO) -> None:
    """The full screen covers the code."""
    out.flush()
    if sys.stdin.isatty() and not arguments.plain:
        out.write("scan the code or type the address, then press enter here to begin\n")
        out.flush()
        sys.stdin.readline()


class InstructorSide:
    """What ties a drill to its link."""

    def __init__(self, link: InstructorLink) -> None:
        self.link = link
        self._live: LiveRun | None = None
        self._trouble = ""

    def join(self, live: LiveRun, desk: DrillDesk, handle: DrillHandle) -> None:
        """This drill is the one; before it begins."""
        self._live = live
        timeline = InstructorTimeline(desk.story, desk.begun_at)

        def happen(event: DrillEvent) -> None:
            handle.happen(event)
            timeline.happen(event)

        def overhear(overheard: str | Answered) -> None:
            timeline.hear(live.room.clock.now(), overheard)

        def show() -> None:
            live.show()
            try:
                self.link.publish(instructor_state(desk, live.view(), timeline) | {"student": live_student})
            except Exception as error:  # noqa: BLE001 - the student's screen goes on
                desk.trouble = trouble_words(reason_of(error))

        def obey(order: Mapping[str, Any]) -> None:
            desk.happen(ordered_event(order, live.room.clock.now(), desk))
            live.room.show()

        live_student = handle.header.student
        desk.watch, desk.trouble = happen, self._trouble
        live.room.overhear, live.room.show_run = overhear, show
        self.link.begin(trippable(desk.story.setting.airplane), live.room.errand, obey)

    def page_died(self, reason: str) -> None:
        """The server's thread has ended: the student is told, and the drill goes on. From that thread."""
        self._trouble, live = trouble_words(reason), self._live
        if live is None or live.desk is None:
            return
        desk = live.desk

        def tell() -> None:
            desk.trouble = self._trouble
            live.room.show()

        live.room.errand(Errand(tell))

    def part(self, out: TextIO) -> None:
        """The student has left: whoever looks at the page may still sign."""
        if self.link.pages:
            out.write("waiting for the instructor's signature; ctrl-C goes on without\n")
            out.flush()
            try:
                self.link.wait_for_signature()
            except KeyboardInterrupt:
                out.write("not signed off\n")


def trouble_words(reason: str) -> str:
    """What the student is told of a page that has died."""
    return f"The instructor's page has stopped ({reason}); the drill goes on."
