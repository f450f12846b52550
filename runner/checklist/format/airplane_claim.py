"""Claims about an airplane: refused in a check that names none, since nothing could be held against one."""

from collections.abc import Mapping
from typing import Final

from runner.checklist.kind.kinds import KINDS
from runner.document import Node

CLAIMS: Final[Mapping[str, str]] = {
    "selects": "where its selector stands",
    "restores": "where its selector belongs",
    "proves": "which of its loads live",
    **{key: kind.claim for key, kind in KINDS.items() if kind.claim},
}
"""Keys of an item that say something of an airplane; a spin-up's gyro is a name for its times as well."""


def refuse_claims(keys: Mapping[str, Node]) -> None:
    """FileError at the first key that claims something of an airplane."""
    for key, what in CLAIMS.items():
        if key in keys:
            instead = 'ask for it as a "state"' if key in KINDS else f'remove "{key}"'
            keys[key].fail(
                f'"{key}" says {what}, and this check names no airplane; '
                f'add "airplane: ..." at the top, or {instead}',
                at=keys[key].key_place,
            )
