"""PURE: addresses of shared records as they may be shown: never with a password."""

import re
from typing import Final

SCHEMES: Final = ("postgresql://", "postgres://", "postgresql+psycopg://")
"""How the address of a school's records starts."""

_ADDRESS: Final = re.compile(r"([a-zA-Z][\w+.-]*://?)(\S*)")
_USER: Final = re.compile(r"^([^/?#:]*):\S*@")
_PARAMETER: Final = re.compile(r"(?i)((?:password|passfile|sslpassword|pwd)=)[^&\s\"']*")


def masked(words: str) -> str:
    """The words with `***` for each password in an address within them, also in `password=...`."""
    hidden = _ADDRESS.sub(lambda found: found[1] + _USER.sub(r"\1:***@", found[2]), words)
    return _PARAMETER.sub(r"\1***", hidden)


def is_address(place: str) -> bool:
    """True for anything with a scheme, which is no folder, whatever it names."""
    return re.match(r"[a-zA-Z][\w+.-]*://", place) is not None
