"""The one place that imports Starlette: the instructor's page, for who has its token and nobody else."""

from __future__ import annotations

import asyncio
import contextlib
import json
import secrets
from collections.abc import AsyncIterator
from functools import partial
from importlib.resources import files
from typing import Final

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import MutableHeaders
from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, RedirectResponse, Response, StreamingResponse
from starlette.routing import Route
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from runner.session.instructor.instructor_link import InstructorLink

FOLDER: Final = files("runner.session.instructor") / "page"
PARTS: Final = {
    "": ("instructor.html", "text/html"),
    "instructor.css": ("instructor.css", "text/css"),
    "instructor.js": ("instructor.js", "text/javascript"),
}
"""What the page is made of, by what is asked for."""
MOST_BYTES: Final = 4096
"""Of an order."""
BEAT_SECONDS: Final = 1.0
"""A page that hears nothing for some of these knows that the connection is lost."""
HEADERS: Final = {
    "Content-Security-Policy": "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; "
    "img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    "Cache-Control": "no-store",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
}
"""Nothing from outside, nothing kept, and the address with its token is told to nobody."""


def page_app(link: InstructorLink, token: str) -> ASGIApp:
    """The page under `/TOKEN/`; anything else is not found, whatever it is."""
    routes = [Route(f"/{name}", partial(_part, name)) for name in PARTS]
    routes += [
        Route("/known", lambda _request: JSONResponse(link.known)),
        Route("/live", partial(_live, link)),
        Route("/order", partial(_order, link), methods=["POST"]),
    ]
    return _Guard(Starlette(routes=routes), token)


class _Guard:
    """Lets through what begins with the token, compared in constant time."""

    def __init__(self, app: ASGIApp, token: str) -> None:
        self._app, self._token = app, token

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            return
        _, given, *rest = (*scope["path"].split("/", 2), "")[:4]
        if not secrets.compare_digest(given.encode(errors="replace"), self._token.encode()):
            await PlainTextResponse("Not Found", 404)(scope, receive, send)
        elif scope["path"].count("/") == 1:
            await RedirectResponse(f"/{self._token}/")(scope, receive, send)
        else:
            inner = {**scope, "path": f"/{rest[0]}", "raw_path": f"/{rest[0]}".encode()}
            await self._app(inner, receive, partial(_send_closed, send))


async def _send_closed(send: Send, message: Message) -> None:
    """With the headers that shut the page off from everything else."""
    if message["type"] == "http.response.start":
        MutableHeaders(scope=message).update(HEADERS)
    await send(message)


async def _part(name: str, _request: Request) -> Response:
    file, media = PARTS[name]
    return Response((FOLDER / file).read_text(encoding="utf-8"), media_type=media)


async def _live(link: InstructorLink, _request: Request) -> Response:
    return StreamingResponse(live_states(link), media_type="text/event-stream")


async def live_states(link: InstructorLink) -> AsyncIterator[str]:
    """Server-sent events (WHATWG HTML, 9.2): the whole state at once, after each change, and as a beat."""
    loop, changed = asyncio.get_running_loop(), asyncio.Event()
    with link.watched(lambda: loop.call_soon_threadsafe(changed.set)):
        while not link.is_over:
            changed.clear()
            yield f"data: {link.newest}\n\n"
            with contextlib.suppress(TimeoutError):
                await asyncio.wait_for(changed.wait(), BEAT_SECONDS)
        yield f"data: {link.newest}\n\nevent: over\ndata: -\n\n"


async def _order(link: InstructorLink, request: Request) -> Response:
    """204 when it is done; else 422 and what is wrong with it."""
    text = b""
    async for piece in request.stream():
        text += piece
        if len(text) > MOST_BYTES:
            return JSONResponse({"wrong": "too long"}, 422)
    try:
        order = json.loads(text)
    except ValueError:
        order = None
    if not isinstance(order, dict):
        return JSONResponse({"wrong": "not an order"}, 422)
    wrong = await run_in_threadpool(link.order, order)
    return JSONResponse({"wrong": wrong}, 422) if wrong else Response(status_code=204)
