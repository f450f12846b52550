"""Every kind of item there is; whatever is to be known of a kind, its class is asked."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from runner.checklist.format.check import Body
from runner.checklist.kind.action import Action
from runner.checklist.kind.call import Call
from runner.checklist.kind.choice import Choice
from runner.checklist.kind.dead import Dead
from runner.checklist.kind.named_state import NamedState
from runner.checklist.kind.partial import Partial
from runner.checklist.kind.reading import Reading
from runner.checklist.kind.spin_up import SpinUp

KINDS: Final[Mapping[str, type[Body]]] = MappingProxyType(
    {kind.key: kind for kind in (Action, NamedState, Reading, SpinUp, Dead, Partial, Choice, Call)}
)
"""By the key in a check file, in the order in which an author is told of them."""
