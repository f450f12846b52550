"""A file over HTTP that goes on where it stopped: ranges of RFC 9110, held to one version of the file.

The part that is here grows in place; beside it lies what the server called that version (its ETag or date).
A server that has another version by now, or that knows no ranges, makes it start again.
"""

import http.client
import re
import urllib.error
import urllib.request
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final
from urllib.parse import urlsplit

from runner.errors import ModelError

TRIES: Final = 8
"""Connections in one go; none of them is tried again after one that brought nothing."""
TIMEOUT_SECONDS: Final = 30.0
CHUNK: Final = 1 << 18

_RANGE: Final = re.compile(r"bytes (\d+)-\d+/(\d+|\*)")


class _OtherVersionError(Exception):
    """The server has a file that does not go on from the part which is here."""


def download(url: str, part: Path, size_bytes: int, tell: Callable[[int], None]) -> None:
    """Let `part` grow to `size_bytes` from the URL; `tell` hears how many bytes are here.

    ModelError when it cannot be had; what came is kept for the next time.
    """
    trouble: Exception | None = None
    for _ in range(TRIES):
        begun = length(part)
        if begun == size_bytes:
            return
        try:
            _receive(url, part, size_bytes, tell)
        except _OtherVersionError:
            forget(part)
            continue
        except urllib.error.HTTPError as error:
            error.close()
            raise ModelError(f"{_host(url)} answers {error.code} {error.reason} for {url}") from None
        except (OSError, http.client.HTTPException) as error:
            trouble = error
        if length(part) <= begun:
            break
    if length(part) != size_bytes:
        raise ModelError(_stopped(url, length(part), size_bytes, trouble))


def length(part: Path) -> int:
    """How many bytes are here already."""
    return part.stat().st_size if part.exists() else 0


def forget(part: Path) -> None:
    """Delete the part and what is known of it."""
    part.unlink(missing_ok=True)
    _version_file(part).unlink(missing_ok=True)


def _receive(url: str, part: Path, size_bytes: int, tell: Callable[[int], None]) -> None:
    """One connection's worth."""
    if length(part) > size_bytes:
        raise _OtherVersionError
    with _open(url, _headers(part)) as response:
        offset = _offset(response, part, size_bytes)
        if not offset:
            _check_length(response, url, size_bytes)
            forget(part)
            _version_file(part).write_text(_version(response), encoding="utf-8")
        with part.open("ab") as file:
            while chunk := response.read(min(CHUNK, size_bytes - offset)):
                file.write(chunk)
                offset += len(chunk)
                tell(offset)


def _open(url: str, headers: dict[str, str]) -> Any:  # noqa: ANN401 - what urlopen gives depends on the URL
    if urlsplit(url).scheme not in ("https", "http"):
        raise ModelError(f"{url}: only https and http are fetched")
    request = urllib.request.Request(url, headers=headers)  # noqa: S310 - the scheme is checked above
    try:
        return urllib.request.urlopen(request, timeout=TIMEOUT_SECONDS)  # noqa: S310 - as above
    except urllib.error.HTTPError as error:
        if error.code != http.client.REQUESTED_RANGE_NOT_SATISFIABLE or "Range" not in headers:
            raise
        error.close()
        raise _OtherVersionError from None


def _headers(part: Path) -> dict[str, str]:
    headers = {"User-Agent": "eyesout", "Accept-Encoding": "identity"}
    begun = length(part)
    if begun:
        headers["Range"] = f"bytes={begun}-"
        version = _kept_version(part)
        if version and not version.startswith("W/"):  # RFC 9110 13.1.5: a weak one may not be used here
            headers["If-Range"] = version
    return headers


def _offset(response: Any, part: Path, size_bytes: int) -> int:  # noqa: ANN401 - see _open
    """Where what comes belongs in the file; a whole file begins at 0."""
    if response.status != http.client.PARTIAL_CONTENT:
        return 0
    match = _RANGE.fullmatch(response.headers.get("Content-Range", ""))
    begun, kept = length(part), _kept_version(part)
    if not match or int(match[1]) != begun or match[2] not in (str(size_bytes), "*"):
        raise _OtherVersionError
    if kept and kept != _version(response):
        raise _OtherVersionError
    return begun


def _check_length(response: Any, url: str, size_bytes: int) -> None:  # noqa: ANN401 - see _open
    offered = response.length
    if offered is not None and offered != size_bytes:
        raise ModelError(
            f"{_host(url)} offers {offered} bytes instead of {size_bytes}: not the file that is pinned; "
            "nothing was fetched"
        )


def _version(response: Any) -> str:  # noqa: ANN401 - see _open
    return str(response.headers.get("ETag") or response.headers.get("Last-Modified") or "")


def _version_file(part: Path) -> Path:
    return part.with_name(f"{part.name}.version")


def _kept_version(part: Path) -> str:
    path = _version_file(part)
    return path.read_text(encoding="utf-8") if path.exists() else ""


def _host(url: str) -> str:
    return urlsplit(url).netloc


def _stopped(url: str, begun: int, size_bytes: int, trouble: Exception | None) -> str:
    cause = getattr(trouble, "reason", trouble)
    reason = getattr(cause, "strerror", None) or cause or "the connection ended early"
    if not begun:
        return (
            f"{_host(url)} cannot be reached ({reason}); get {url} elsewhere and install it with --from FILE"
        )
    return (
        f"{_host(url)}: stopped after {begun / 1e6:.1f} of {size_bytes / 1e6:.1f} MB ({reason}); "
        "the same command goes on from there"
    )
