"""A real HTTP server on loopback that serves one file, well or badly, and keeps what it was asked."""

import contextlib
import http.server
import re
import socket
import threading
from collections.abc import Iterator
from dataclasses import dataclass, field
from http import HTTPStatus
from typing import cast


@dataclass(slots=True)
class Served:
    """What is served and how; a test may change it between requests."""

    content: bytes
    version: tuple[str, str] | None = ("ETag", '"first"')
    """The header that names this version of the file."""
    has_ranges: bool = True
    minds_if_range: bool = True
    tells_length: bool = True
    status: HTTPStatus = HTTPStatus.OK
    skips: int = 0
    """So many bytes too far begins what answers a range, as its Content-Range says."""
    drops: list[int] = field(default_factory=list)
    """After how many bytes of the body the next connections are dropped, in their order."""
    asked: list[dict[str, str]] = field(default_factory=list)
    """The headers of each request."""
    url: str = ""


class _Server(http.server.ThreadingHTTPServer):
    served: Served


class _Handler(http.server.BaseHTTPRequestHandler):
    def do_GET(self) -> None:
        """Answer as RFC 9110 says, but for what the test wants otherwise."""
        served = cast("_Server", self.server).served
        asked = dict(self.headers)
        served.asked.append(asked)
        start = _start(served, asked)
        if served.status is not HTTPStatus.OK:
            self.send_error(served.status)
            return
        if start > len(served.content):
            self.send_error(HTTPStatus.REQUESTED_RANGE_NOT_SATISFIABLE)
            return
        self._send(served, start)

    def _send(self, served: Served, start: int) -> None:
        body, size = served.content[start:], len(served.content)
        self.send_response(HTTPStatus.PARTIAL_CONTENT if start else HTTPStatus.OK)
        if start:
            self.send_header("Content-Range", f"bytes {start}-{size - 1}/{size}")
        if served.tells_length:
            self.send_header("Content-Length", str(len(body)))
        if served.version:
            self.send_header(*served.version)
        self.end_headers()
        with contextlib.suppress(ConnectionError):  # the client may hang up as soon as it knows enough
            self.wfile.write(body[: served.drops.pop(0)] if served.drops else body)

    def log_message(self, *_: object) -> None:
        """Keep the test's output clean."""


def _start(served: Served, asked: dict[str, str]) -> int:
    match = re.fullmatch(r"bytes=(\d+)-", asked.get("Range", ""))
    if not match or not served.has_ranges:
        return 0
    wanted = asked.get("If-Range")
    is_other = wanted is not None and (served.version is None or wanted != served.version[1])
    return 0 if is_other and served.minds_if_range else int(match[1]) + served.skips


@contextlib.contextmanager
def serving(content: bytes) -> Iterator[Served]:
    """Serve it until the block ends."""
    server = _Server(("127.0.0.1", 0), _Handler)
    server.served = Served(content)
    server.served.url = f"http://127.0.0.1:{server.server_port}/model.zip"
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01})
    thread.start()
    try:
        yield server.served
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


def closed_port() -> int:
    """A port of loopback that nobody listens on."""
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        return int(taken.getsockname()[1])
