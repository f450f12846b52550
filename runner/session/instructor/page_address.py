"""The one place that imports segno: a page's address, as text, as a code to scan, and who can reach it."""

from __future__ import annotations

import io
import ipaddress
import socket
from typing import Final

import segno

ELSEWHERE: Final = ("192.0.2.1", 9)
"""An address that belongs to nobody (RFC 5737): a datagram socket finds its way there and sends nothing."""


def page_address(host: str, port: int, token: str) -> str:
    """`http://192.168.1.20:40123/TOKEN/`; where it listens everywhere, the address that others see."""
    seen = _seen_from_outside() if host in ("0.0.0.0", "::", "") else host  # noqa: S104 - compared, not bound
    return f"http://{f'[{seen}]' if ':' in seen else seen}:{port}/{token}/"


def who_reaches(host: str) -> str:
    """In words, for the line that is printed."""
    if is_loopback(host):
        return "this computer only"
    return "everybody on its networks who has the address; it is not encrypted"


def is_loopback(host: str) -> bool:
    """Whether only this computer can reach it."""
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def address_code(address: str) -> str:
    """The address as a QR code (ISO/IEC 18004) of half blocks, light on dark as on most terminals."""
    drawn = io.StringIO()
    segno.make_qr(address, error="l").terminal(drawn, border=2, compact=True)
    return drawn.getvalue().rstrip("\n")


def _seen_from_outside() -> str:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(ELSEWHERE)
        except OSError:
            return socket.gethostname()
        found: str = probe.getsockname()[0]
        return found
