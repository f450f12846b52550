"""The page over HTTP: all of it with the token, nothing without, and no way out of it."""

import json
import re

import pytest
from starlette.testclient import TestClient

from runner.session.instructor.page_app import FOLDER, PARTS, live_states, page_app
from tests.session.instructor.beside import GYRO, Beside

TOKEN = "a-token"  # noqa: S105 - of a test
LOCKED = ("", "instructor.css", "known", "live", "order", "nothing")


def client(drill: Beside) -> TestClient:
    """A browser without a face."""
    return TestClient(page_app(drill.link, TOKEN), base_url="http://instructor", follow_redirects=False)


@pytest.mark.parametrize("method", ["GET", "POST", "HEAD", "OPTIONS"])
@pytest.mark.parametrize("token", ["", "a-toke", "a-token2", "A-token", "%61-toke", "á", "..", "a-token%00"])
def test_without_the_token_nothing_is_found(method: str, token: str) -> None:
    """The same bare answer for every path and method, so that nothing can be told from it."""
    web = client(Beside())
    for path in LOCKED:
        answer = web.request(method, f"/{token}/{path}", content=b'{"order": "freeze"}')
        told = (answer.status_code, answer.text, dict(answer.headers))
        plain = {"content-length": "9", "content-type": "text/plain; charset=utf-8"}
        assert told == (404, "" if method == "HEAD" else "Not Found", plain)


def test_with_the_token_the_page_is_there_and_keeps_to_itself() -> None:
    """Its policy lets nothing in from outside; nothing is cached, and the address goes nowhere."""
    web = client(Beside())
    for path, (_, media) in PARTS.items():
        answer = web.get(f"/{TOKEN}/{path}")
        assert answer.status_code == 200
        assert answer.headers["content-type"].startswith(media)
        assert answer.headers["content-security-policy"].startswith("default-src 'none'; style-src 'self'")
        assert answer.headers["cache-control"] == "no-store"
        assert answer.headers["referrer-policy"] == "no-referrer"
    assert "DRILL" in web.get(f"/{TOKEN}/").text
    assert web.get(f"/{TOKEN}").headers["location"].endswith(f"/{TOKEN}/")
    assert web.get(f"/{TOKEN}/other").status_code == 404


def test_the_page_names_nothing_outside() -> None:
    """No address in any of its files, and no markup made of words."""
    for file, _ in PARTS.values():
        text = (FOLDER / file).read_text(encoding="utf-8")
        assert not re.search(r"https?://|//[a-z]+\.|@import|url\(", text)
        assert not re.search(r"innerHTML|insertAdjacentHTML|eval\(|document\.write", text)


def test_an_order_by_http_is_done_or_told() -> None:
    """204, or 422 with one line."""
    drill = Beside()
    web = client(drill)
    assert web.post(f"/{TOKEN}/order", json={"order": "trip", **GYRO}).status_code == 204
    again = web.post(f"/{TOKEN}/order", json={"order": "trip", **GYRO})
    assert (again.status_code, again.json()) == (
        422,
        {"wrong": "left attitude gyro: tumbles is in the airplane already"},
    )
    for text in (b"", b"[]", b"\xff", b"{"):
        assert web.post(f"/{TOKEN}/order", content=text).json() == {"wrong": "not an order"}
    assert web.post(f"/{TOKEN}/order", content=b" " * 5000).json() == {"wrong": "too long"}
    assert web.get(f"/{TOKEN}/order").status_code == 405
    assert len(drill.events) == 1


def test_known_faults_are_offered() -> None:
    """Those of this airplane."""
    offered = client(Beside()).get(f"/{TOKEN}/known").json()
    assert any(GYRO.items() <= each.items() for each in offered)
    assert not any("now and then" in each["words"] for each in offered)


async def test_states_come_at_once_after_a_change_and_to_the_end() -> None:
    """As server-sent events, each a whole state in one line; the end has a name of its own."""
    drill = Beside()
    drill.show()
    states = live_states(drill.link)
    first = await anext(states)
    assert re.fullmatch(r"data: \{.*\}\n\n", first)
    assert not json.loads(first[6:])["is_frozen"]
    drill.link.order({"order": "freeze"})
    assert json.loads((await anext(states))[6:])["is_frozen"]
    drill.link.close()
    assert (await anext(states)).endswith("\n\nevent: over\ndata: -\n\n")
    with pytest.raises(StopAsyncIteration):
        await anext(states)
    assert drill.link.pages == 0


async def test_a_page_hears_a_beat_when_nothing_changes() -> None:
    """So that it knows a lost connection from a quiet drill."""
    drill = Beside()
    drill.show()
    states = live_states(drill.link)
    assert await anext(states) == await anext(states)
    drill.link.close()


def test_a_drill_that_is_over_is_told_to_who_comes_late() -> None:
    """The last state, and that it is the last."""
    drill = Beside()
    drill.show()
    drill.link.close()
    assert client(drill).get(f"/{TOKEN}/live").text.endswith("event: over\ndata: -\n\n")
