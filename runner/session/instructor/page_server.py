"""The one place that imports uvicorn: a page served on a thread of its own, whose death is told."""

from __future__ import annotations

import socket
import threading
from collections.abc import Awaitable, Callable
from typing import Final

import uvicorn

from runner.errors import UsageError
from runner.session.live.attendant import reason_of

ServedApp = Callable[..., Awaitable[None]]
"""An ASGI application."""
LEAVE_SECONDS: Final = 4.0
"""So long the thread gets to come to its end."""
GRACE_SECONDS: Final = 2
"""So long open pages get to hear that it is over."""


def listen_at(host: str, port: int) -> socket.socket:
    """A socket that pages can connect to; UsageError when there can be none."""
    try:
        family = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0][0]
        return socket.create_server((host, port), family=family)
    except (OSError, UnicodeError) as error:
        told = getattr(error, "strerror", None) or error
        raise UsageError(
            f"cannot serve the instructor's page at {host}, port {port or 'any'}: {told}; "
            "name an address of this computer, such as --host 0.0.0.0, and a free --port"
        ) from None


class PageServer:
    """Serves until it is closed. `tell` is called, on its thread, when it ends before that."""

    def __init__(self, app: ServedApp, listening: socket.socket, tell: Callable[[str], None]) -> None:
        self._server = uvicorn.Server(
            uvicorn.Config(
                app,
                http="h11",
                ws="none",
                loop="asyncio",
                lifespan="off",
                log_config=None,
                log_level="critical",
                access_log=False,  # which would write the token down
                server_header=False,
                timeout_graceful_shutdown=GRACE_SECONDS,
            )
        )
        self._listening, self._tell = listening, tell
        self._is_closing = False
        self._thread = threading.Thread(target=self._serve, name="instructor", daemon=True)
        self._thread.start()

    def close(self) -> None:
        """End it; what hangs is left behind."""
        self._is_closing = True
        self._server.should_exit = True
        self._thread.join(LEAVE_SECONDS)
        self._listening.close()

    def _serve(self) -> None:
        reason = "it ended"
        try:
            self._server.run(sockets=[self._listening])
        except BaseException as error:  # noqa: BLE001 - told, and the drill goes on
            reason = reason_of(error)
        if not self._is_closing:
            self._tell(reason)
