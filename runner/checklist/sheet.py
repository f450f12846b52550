"""A check as text: sections and items written the way a person would, ready to be edited."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from textwrap import indent
from typing import Final

import yaml

KEY_ORDER: Final = (
    *("item", "challenge", "why", "when", "critical", "remedy", "moves", "returns"),
    *("looks", "restores", "selects"),
)
"""What every kind of item may have; the kind's own key and what it proves come after."""

Entry = Mapping[str, object]
"""One item: its keys and values."""


@dataclass(frozen=True, slots=True)
class Part:
    """One section to be written."""

    title: str
    entries: tuple[Entry, ...]


class _Dumper(yaml.SafeDumper):
    """Lists stand further in than the key that they belong to."""

    def increase_indent(self, flow: bool = False, indentless: bool = False) -> None:  # noqa: ARG002, FBT001, FBT002 - the library calls it so
        """Go one step in."""
        super().increase_indent(flow, indentless=False)


def write_sheet(remark: Iterable[str], head: Mapping[str, object], parts: Iterable[Part]) -> str:
    """The YAML text: a comment on top, the check's own keys, then its sections with a line between items."""
    comment = "".join(f"# {line}\n" for line in remark)
    sections = "\n".join(_section(part) for part in parts)
    return f"{comment}{_dump(head)}\nsections:\n{sections}"


def _section(part: Part) -> str:
    items = "\n".join(_item(entry) for entry in part.entries)
    return f"{indent(_dump([{'section': part.title}]), '  ')}    items:\n{items}"


def _item(entry: Entry) -> str:
    known = {key: entry[key] for key in KEY_ORDER if key in entry}
    return indent(_dump([{**known, **entry}]), "      ")


def _dump(value: object) -> str:
    """Plain YAML; words that YAML could take for something else are quoted."""
    return str(yaml.dump(value, Dumper=_Dumper, sort_keys=False, allow_unicode=True, width=100))
