"""Addresses: who reaches them, and a code that a reader can read back."""

import segno

from runner.session.instructor.page_address import address_code, is_loopback, page_address, who_reaches


def test_addresses_are_written_as_browsers_take_them() -> None:
    """IPv6 in brackets (RFC 3986, 3.2.2)."""
    assert page_address("127.0.0.1", 80, "t") == "http://127.0.0.1:80/t/"
    assert page_address("::1", 80, "t") == "http://[::1]:80/t/"
    assert "0.0.0.0" not in page_address("0.0.0.0", 80, "t")  # noqa: S104 - what is tested


def test_loopback_is_told_from_the_rest() -> None:
    """127.0.0.0/8 (RFC 1122, 3.2.1.3) and ::1 (RFC 4291, 2.5.3); a name that is not known counts as open."""
    assert all(map(is_loopback, ("127.0.0.1", "127.8.9.1", "::1", "localhost")))
    assert not any(map(is_loopback, ("0.0.0.0", "192.168.1.2", "::", "tablet")))  # noqa: S104
    assert who_reaches("localhost") == "this computer only"
    assert "not encrypted" in who_reaches("192.168.1.2")


def test_the_code_is_the_addresss() -> None:
    """Half blocks, light where the code is light, are the very modules of its matrix, with a border."""
    address = "http://127.0.0.1:40123/AbCdEfGhIjKlMnOpQrStUv/"
    matrix = [list(row) for row in segno.make_qr(address, error="l").matrix_iter(border=2)]
    lines = address_code(address).splitlines()
    halves = {" ": (1, 1), "▀": (0, 1), "▄": (1, 0), "█": (0, 0)}
    drawn = [[halves[sign][half] for sign in line] for line in lines for half in (0, 1)]
    assert drawn[: len(matrix)] == matrix
