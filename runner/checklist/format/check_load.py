"""Reads a check file; every mistake is reported with file, line, column and what to write instead."""

from collections.abc import Mapping
from pathlib import Path

from runner.checklist.format.check import Check, Item, Section
from runner.checklist.format.item import read_item
from runner.checklist.format.key import with_keys
from runner.checklist.format.movement import Moved, moved_after, refuse_unreturned
from runner.checklist.format.order import check_order
from runner.checklist.format.pronounce import read_pronunciations
from runner.checklist.format.scope import Scope
from runner.document import Node, parse_document, read_document

CHECK_REQUIRED = ("check", "cautions", "sections")
CHECK_OPTIONAL = ("airplane", "pronounce")
SECTION_KEYS = ("section", "items")


def load_check(path: Path) -> Check:
    """The check in a file; FileError for whatever is wrong with it."""
    return read_check(read_document(path), path.stem)


def parse_check(words: str, path: Path, *, is_recorded: bool = False) -> Check:
    """The check in a text, as `load_check` reads it; `path` only names it.

    A text out of a run's record may lack what its version did not ask for.
    """
    return read_check(parse_document(words, path), path.stem, is_recorded=is_recorded)


def read_check(node: Node, name: str, *, is_recorded: bool = False) -> Check:
    """The check in a document."""
    keys = node.mapping(CHECK_REQUIRED, CHECK_OPTIONAL)
    title = keys["check"].text()
    airplane = keys["airplane"].text() if "airplane" in keys else ""
    place = keys["airplane"].place if "airplane" in keys else None
    cautions = keys["cautions"].texts()
    pronounce = read_pronunciations(keys["pronounce"]) if "pronounce" in keys else {}
    sections = _keyed(
        _sections(keys["sections"], Scope(is_recorded=is_recorded, has_airplane=place is not None))
    )
    check_order(sections)
    return Check(name, title, airplane, cautions, sections, pronounce, place)


def _sections(node: Node, scope: Scope) -> tuple[Section, ...]:
    sections: list[Section] = []
    moved: Mapping[str, Moved] = {}
    for entry in node.items():
        entries = entry.entries()
        title = entries["section"].text() if "section" in entries else ""
        inside = entry.within(f'section "{title}"') if title else entry
        keys = inside.mapping(SECTION_KEYS)
        if any(title == other.title for other in sections):
            keys["section"].fail("another section has this title; rename one")
        items: list[Item] = []
        for child in keys["items"].items():
            items.append(read_item(child, scope))
            scope = scope.grown(items[-1])
            moved = moved_after(child, items[-1], moved)
        sections.append(Section(title, tuple(items)))
    refuse_unreturned(moved)
    return tuple(sections)


def _keyed(sections: tuple[Section, ...]) -> tuple[Section, ...]:
    keyed = iter(with_keys([item for section in sections for item in section.items]))
    return tuple(Section(section.title, tuple(next(keyed) for _ in section.items)) for section in sections)
