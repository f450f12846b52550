"""Drives Debian's Chromium over its debugging pipe (Chrome DevTools Protocol 1.3) for the tests of pages."""

import base64
import json
import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

PATH = shutil.which("chromium") or ""
needs_chromium = pytest.mark.skipif(not PATH, reason="no chromium here")

FLAGS = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--hide-scrollbars"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
    "--remote-debugging-pipe",
)


class Chromium:
    """One browser with one page; messages are JSON, ended by a zero byte."""

    def __init__(self, send: int, receive: int) -> None:
        self._send = send
        self._receive = receive
        self._rest = b""
        self._number = 0
        self._session = ""
        self.events: list[dict[str, Any]] = []
        """Everything that the page reported, in order."""

    def ask(self, method: str, **parameters: object) -> dict[str, Any]:
        """The answer to one request."""
        self._number += 1
        request = {"id": self._number, "method": method, "params": parameters}
        if self._session:
            request["sessionId"] = self._session
        os.write(self._send, json.dumps(request).encode() + b"\0")
        while (message := self._read()).get("id") != self._number:
            self.events.append(message)
        assert "error" not in message, message
        result: dict[str, Any] = message["result"]
        return result

    def attach(self) -> None:
        """Open an empty page."""
        target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        self._session = self.ask("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for domain in ("Page", "Runtime", "Log", "Network", "Accessibility"):
            self.ask(f"{domain}.enable")

    def open(self, place: Path | str) -> None:
        """Load a file or an address and wait until it is there."""
        self.events.clear()
        self.ask("Page.navigate", url=place if isinstance(place, str) else place.as_uri())
        while not any(event.get("method") == "Page.loadEventFired" for event in self.events):
            self.events.append(self._read())

    def happened(self, *methods: str) -> list[dict[str, Any]]:
        """What the page reported under these names since it was opened."""
        return [event["params"] for event in self.events if event.get("method") in methods]

    def value(self, script: str) -> Any:
        """What an expression comes to in the page."""
        return self.ask("Runtime.evaluate", expression=script, returnByValue=True)["result"].get("value")

    def wait_until(self, condition: str, seconds: float = 20.0) -> None:
        """Until an expression is true in the page; the page itself waits, looking at every change of it."""
        script = f"""new Promise((done, fail) => {{
            const timer = setTimeout(() => fail(document.body.innerText), {seconds * 1000});
            const look = () => {{
                if ({condition}) {{ clearTimeout(timer); done(true); }} else requestAnimationFrame(look);
            }};
            look();
        }})"""
        answer = self.ask("Runtime.evaluate", expression=script, awaitPromise=True, returnByValue=True)
        assert answer["result"].get("value") is True, (condition, answer["result"])

    def click(self, selector: str) -> None:
        """Press and let go where the element is, as a hand would: what covers it gets the click."""
        self.value(f"document.querySelector({selector!r}).scrollIntoView({{block: 'center'}})")
        middle = f"""(box => [box.x + box.width / 2, box.y + box.height / 2])(
            document.querySelector({selector!r}).getBoundingClientRect())"""
        x, y = self.value(middle)
        for kind in ("mousePressed", "mouseReleased"):
            self.ask("Input.dispatchMouseEvent", type=kind, x=x, y=y, button="left", clickCount=1)

    def write(self, words: str) -> None:
        """Type into what has the focus."""
        self.ask("Input.insertText", text=words)

    def nodes(self) -> list[dict[str, Any]]:
        """The accessibility tree, as a screen reader gets it."""
        listed: list[dict[str, Any]] = self.ask("Accessibility.getFullAXTree")["nodes"]
        return [node for node in listed if not node["ignored"]]

    def printed(self, width: float, height: float) -> bytes:
        """The page as PDF on paper of so many inches; margins are the page's own."""
        paper = {"paperWidth": width, "paperHeight": height, "printBackground": False}
        return base64.b64decode(self.ask("Page.printToPDF", **paper)["data"])

    def _read(self) -> dict[str, Any]:
        while b"\0" not in self._rest:
            more = os.read(self._receive, 1 << 20)
            assert more, "chromium has gone"
            self._rest += more
        text, _, self._rest = self._rest.partition(b"\0")
        message: dict[str, Any] = json.loads(text)
        return message


@contextmanager
def chromium(profile: Path) -> Iterator[Chromium]:
    """A browser with a new profile; it reads requests on descriptor 3 and answers on 4."""
    to_read, to_send = os.pipe()
    answers, to_answer = os.pipe()
    words = (PATH, *FLAGS, f"--user-data-dir={profile}", "about:blank")
    shell = f'exec "$@" 3<&{to_read} 4>&{to_answer}'
    process = subprocess.Popen(
        ["bash", "-c", shell, "bash", *words],
        pass_fds=(to_read, to_answer),
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    os.close(to_read)
    os.close(to_answer)
    try:
        browser = Chromium(to_send, answers)
        browser.attach()
        yield browser
    finally:
        process.terminate()
        process.wait(timeout=20)
        os.close(to_send)
        os.close(answers)
