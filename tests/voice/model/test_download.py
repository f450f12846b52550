"""Downloads over real HTTP from a server on loopback that behaves, and from ones that do not.

What is held against RFC 9110: Range and 206 (14.2, 15.3.7), If-Range (13.1.5), 416 (15.5.17).
"""

import ast
from collections.abc import Iterator
from http import HTTPStatus
from pathlib import Path

import numpy as np
import pytest

import runner
from runner.errors import ModelError
from runner.voice.model.download import TRIES, download, length
from tests.voice.file_server import Served, closed_port, serving

CONTENT = np.random.default_rng(0).bytes(700_000)
OTHER = np.random.default_rng(1).bytes(700_000)


@pytest.fixture(autouse=True)
def _no_proxy(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("no_proxy", "127.0.0.1")


@pytest.fixture
def served() -> Iterator[Served]:
    """The file on a server that knows ranges."""
    with serving(CONTENT) as found:
        yield found


@pytest.fixture
def part(tmp_path: Path) -> Path:
    """Where it goes."""
    return tmp_path / "model.zip.part"


def get(served: Served, part: Path) -> list[int]:
    """Download; gives what was told on the way."""
    told: list[int] = []
    download(served.url, part, len(CONTENT), told.append)
    return told


def begin(served: Served, part: Path, count: int = 300_000) -> None:
    """A download that broke after `count` bytes, and could not go on."""
    served.drops = [count, 0]
    with pytest.raises(ModelError, match=r"stopped after 0\.3 of 0\.7 MB .*; the same command goes on"):
        get(served, part)
    assert length(part) == count
    served.asked.clear()


def test_a_file_comes_whole_and_is_told_on_the_way(served: Served, part: Path) -> None:
    """One request without a range; the told bytes rise to the whole."""
    told = get(served, part)
    assert part.read_bytes() == CONTENT
    assert told == sorted(told)
    assert told[-1] == len(CONTENT)
    assert ["Range" in asked for asked in served.asked] == [False]


def test_a_whole_file_is_not_asked_for_again(served: Served, part: Path) -> None:
    """Nothing goes over the network."""
    part.write_bytes(CONTENT)
    assert get(served, part) == []
    assert served.asked == []


def test_a_dropped_connection_goes_on_by_itself_from_there(served: Served, part: Path) -> None:
    """The second request asks for the rest of the same version, and both parts fit together."""
    served.drops = [300_000]
    get(served, part)
    assert part.read_bytes() == CONTENT
    assert [(asked.get("Range"), asked.get("If-Range")) for asked in served.asked] == [
        (None, None),
        ("bytes=300000-", '"first"'),
    ]


def test_a_later_download_goes_on_from_the_part(served: Served, part: Path) -> None:
    """As after a closed laptop: only the rest is fetched."""
    begin(served, part)
    told = get(served, part)
    assert part.read_bytes() == CONTENT
    assert min(told) > 300_000
    assert [asked.get("Range") for asked in served.asked] == ["bytes=300000-"]


def test_a_server_that_always_drops_is_not_asked_for_ever(served: Served, part: Path) -> None:
    """After so many connections it is left to the user."""
    served.drops = [1000] * 100
    with pytest.raises(ModelError, match="the same command goes on from there"):
        get(served, part)
    assert len(served.asked) == TRIES
    assert part.read_bytes() == CONTENT[: 1000 * TRIES]


def test_a_server_without_ranges_makes_it_start_again(served: Served, part: Path) -> None:
    """The whole file takes the place of the part."""
    begin(served, part)
    served.has_ranges = False
    assert min(get(served, part)) < 300_000
    assert part.read_bytes() == CONTENT


@pytest.mark.parametrize("minds_if_range", [True, False])
@pytest.mark.parametrize(
    "version", [("ETag", '"second"'), ("Last-Modified", "Wed, 25 Nov 2026 14:00:00 GMT")]
)
def test_another_version_makes_it_start_again(
    served: Served, part: Path, version: tuple[str, str], *, minds_if_range: bool
) -> None:
    """Whether the server compares the version or only tells it: no byte of the old one stays."""
    begin(served, part)
    served.content, served.version, served.minds_if_range = OTHER, version, minds_if_range
    get(served, part)
    assert part.read_bytes() == OTHER


def test_a_date_serves_where_there_is_no_etag(served: Served, part: Path) -> None:
    """If-Range takes either."""
    served.version = ("Last-Modified", "Wed, 25 Nov 2026 14:00:00 GMT")
    begin(served, part)
    get(served, part)
    assert [asked["If-Range"] for asked in served.asked] == ["Wed, 25 Nov 2026 14:00:00 GMT"]
    assert part.read_bytes() == CONTENT


@pytest.mark.parametrize("version", [("ETag", 'W/"weak"'), None])
def test_no_condition_is_set_without_a_strong_version(
    served: Served, part: Path, version: tuple[str, str] | None
) -> None:
    """A weak ETag may not be used in If-Range; the range alone goes on, and the hash decides later."""
    served.version = version
    begin(served, part)
    get(served, part)
    assert ["If-Range" in asked for asked in served.asked] == [False]
    assert part.read_bytes() == CONTENT


def test_a_part_that_is_too_long_is_thrown_away(served: Served, part: Path) -> None:
    """It cannot be the beginning of this file."""
    part.write_bytes(CONTENT + b"more")
    get(served, part)
    assert part.read_bytes() == CONTENT
    assert ["Range" in asked for asked in served.asked] == [False]


def test_a_rest_that_begins_elsewhere_is_not_joined(served: Served, part: Path) -> None:
    """Its Content-Range says so; the file is fetched anew."""
    begin(served, part)
    served.skips = 7
    get(served, part)
    assert part.read_bytes() == CONTENT


@pytest.mark.parametrize("size", [200_000, 400_000, 800_000])
def test_a_file_of_another_size_is_refused(served: Served, part: Path, size: int) -> None:
    """Before it is fetched, also where the server refuses the range (416) because it has less."""
    begin(served, part)
    served.content = (CONTENT + OTHER)[:size]
    with pytest.raises(ModelError, match=f"offers {size} bytes instead of 700000"):
        get(served, part)


def test_a_page_in_place_of_the_file_is_refused_and_the_part_kept(served: Served, part: Path) -> None:
    """As from a network that wants a login first."""
    begin(served, part)
    served.content, served.version, served.has_ranges = b"<html>log in</html>", None, False
    with pytest.raises(ModelError, match="not the file that is pinned; nothing was fetched"):
        get(served, part)
    assert part.read_bytes() == CONTENT[:300_000]


def test_no_more_is_taken_than_the_file_has(served: Served, part: Path) -> None:
    """From a server that tells no length and sends without end."""
    served.content, served.tells_length = CONTENT + OTHER, False
    get(served, part)
    assert part.read_bytes() == CONTENT


@pytest.mark.parametrize("status", [HTTPStatus.NOT_FOUND, HTTPStatus.SERVICE_UNAVAILABLE])
def test_a_refusal_is_told_and_the_part_kept(served: Served, part: Path, status: HTTPStatus) -> None:
    """With the server's own words; not asked again."""
    begin(served, part)
    served.status = status
    with pytest.raises(ModelError, match=f"answers {status.value} {status.phrase} for http://127"):
        get(served, part)
    assert len(served.asked) == 1
    assert length(part) == 300_000


def test_a_server_that_cannot_be_reached_says_what_else_to_do(part: Path) -> None:
    """One line with the address to get it from elsewhere."""
    url = f"http://127.0.0.1:{closed_port()}/model.zip"
    with pytest.raises(ModelError, match=f"cannot be reached .*; get {url} elsewhere .* --from FILE"):
        download(url, part, 10, lambda _: None)


def importers(*names: str) -> set[str]:
    """The modules of runner/ that import any of these."""
    package = Path(runner.__file__).parent
    return {
        path.relative_to(package).as_posix()
        for path in package.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if (isinstance(node, ast.Import) and any(alias.name in names for alias in node.names))
        or (isinstance(node, ast.ImportFrom) and node.module in names)
    }


def test_no_other_command_fetches_anything() -> None:
    """One module speaks HTTP, and `eyesout models` alone has it fetch; one more keeps a library off.

    The instructor's page only listens.
    """
    assert importers("urllib.request", "http.client", "requests", "httpx") == {"voice/model/download.py"}
    listening = {"session/instructor/page_address.py", "session/instructor/page_server.py"}
    assert importers("socket") <= {"voice/model/download.py", "voice/ear/vosk_ear.py", *listening}
    assert importers("runner.voice.model.fetch") == {"command/models.py"}


def test_only_the_web_is_fetched_from(part: Path, tmp_path: Path) -> None:
    """Not a file of this computer."""
    with pytest.raises(ModelError, match="only https and http"):
        download((tmp_path / "x").as_uri(), part, 10, lambda _: None)
