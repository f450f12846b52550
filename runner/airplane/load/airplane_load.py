"""Reads an airplane file; whatever is wrong with it is a FileError at its line and column."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TypeVar

from runner.airplane.electric.section import read_switches, read_trip_curve
from runner.airplane.electric.trip import DEFAULT_TRIP
from runner.airplane.load.field import amount, named, names, positive
from runner.airplane.load.instrument_section import (
    Powers,
    read_gyro,
    read_instrument,
    read_lamp,
    read_radio,
    read_voltmeter,
)
from runner.airplane.load.reference import (
    refuse_mixed_currents,
    refuse_shared_names,
    refuse_split_breakers,
    shown_names,
)
from runner.airplane.load.source_section import read_sources
from runner.airplane.load.wiring_section import Known, read_breakers, read_links, read_loads, read_selector
from runner.airplane.model.airplane import Airplane, EndurancePlan
from runner.airplane.model.source import Battery, Source, nominal_volts
from runner.airplane.model.wiring import Phase, Selector
from runner.document import Node, parse_document, read_all, read_document
from runner.errors import Place

REQUIRED = (
    "title",
    "registration",
    "note",
    "selector",
    "sources",
    "buses",
    "links",
    "breakers",
    "loads",
    "instruments",
    "voltmeter",
    "battery_warn_share",
    "endurance",
)
OPTIONAL = ("pumps", "gyros", "lamps", "radios", "panel", "rated_volts", "switches", "trip_curve")
NAMED_SECTIONS = (
    "loads",
    "instruments",
    "sources",
    "links",
    "breakers",
    "gyros",
    "lamps",
    "radios",
    "switches",
)
GENERATOR_SHARE = 28 / 24
"""A charging system's volts over its lead-acid battery's nominal ones."""

Made = TypeVar("Made")


def load_airplane(path: Path) -> Airplane:
    """The airplane that the file describes; FileError with every mistake when it describes none."""
    return read_all(read_document(path), read_airplane)


def parse_airplane(words: str, path: Path) -> Airplane:
    """The airplane in a text, as `load_airplane` reads it; `path` only names it."""
    return read_all(parse_document(words, path), read_airplane)


def read_airplane(document: Node) -> Airplane:
    """The airplane that a parsed document describes; FileError when it describes none."""
    fields = document.mapping(REQUIRED, OPTIONAL)
    selector = read_selector(fields["selector"])
    buses = _list(fields["buses"])
    pumps = _list(fields["pumps"]) if "pumps" in fields else ()
    breakers = read_breakers(fields["breakers"])
    switches = read_switches(fields["switches"]) if "switches" in fields else {}
    known = Known(selector.positions, buses, tuple(breakers), switches)
    sources = read_sources(fields["sources"], buses)
    links = read_links(fields["links"], known)
    refuse_mixed_currents(fields, links)
    loads = read_loads(fields["loads"], known)
    powers = Powers(tuple(loads), pumps)
    instruments = _section(fields, "instruments", lambda name, node: read_instrument(name, node, powers))
    shown = shown_names(instruments)
    refuse_shared_names(fields, loads, instruments)
    refuse_split_breakers(fields, loads, links)
    return Airplane(
        name=document.place.path.stem,
        title=fields["title"].text(),
        registration=fields["registration"].text(),
        path=document.place.path,
        note=fields["note"].text(),
        selector=selector,
        sources=sources,
        pumps=pumps,
        buses=buses,
        links=links,
        breakers=breakers,
        loads=loads,
        instruments=instruments,
        gyros=_section(
            fields, "gyros", lambda name, node: read_gyro(name, node, powers.loads, tuple(instruments))
        ),
        lamps=_section(fields, "lamps", lambda name, node: read_lamp(name, node, powers.loads)),
        radios=_section(fields, "radios", lambda name, node: read_radio(name, node, powers.loads)),
        voltmeter=read_voltmeter(fields["voltmeter"], shown),
        panel=names(fields["panel"], (*loads, *shown)) if "panel" in fields else (),
        battery_warn_share=amount(fields["battery_warn_share"], at_most=1),
        endurance=_endurance(fields["endurance"], selector),
        places=_places(fields),
        rated_volts=positive(fields["rated_volts"]) if "rated_volts" in fields else _usual_volts(sources),
        switches=switches,
        trip_curve=read_trip_curve(fields["trip_curve"]) if "trip_curve" in fields else DEFAULT_TRIP,
    )


def _usual_volts(sources: Mapping[str, Source]) -> float:
    """14 or 28 V, whichever is nearer to what the first battery is charged at."""
    battery = next((source for source in sources.values() if isinstance(source, Battery)), None)
    if battery is None:
        return 28.0  # that there is none has been told; the file is refused
    charged = nominal_volts(battery) * GENERATOR_SHARE
    return min((14.0, 28.0), key=lambda volts: abs(volts - charged))


def _section(
    fields: Mapping[str, Node], section: str, read: Callable[[str, Node], Made]
) -> Mapping[str, Made]:
    if section not in fields:
        return {}
    return {
        name: read(name, node) for name, node in named(fields[section], section.removesuffix("s")).items()
    }


def _list(node: Node) -> tuple[str, ...]:
    return names(node, node.texts())


def _endurance(node: Node, selector: Selector) -> EndurancePlan:
    fields = node.within("endurance").mapping(
        required=("required_minutes", "recognise_minutes", "approach_minutes"), optional=("positions",)
    )
    positions = dict.fromkeys(Phase, selector.reserve)
    positions[Phase.RECOGNISE] = selector.normal
    if "positions" in fields:
        listed = fields["positions"].mapping(optional=tuple(Phase))
        positions |= {Phase(key): value.one_of(selector.positions) for key, value in listed.items()}
    return EndurancePlan(
        required_minutes=positive(fields["required_minutes"]),
        recognise_minutes=amount(fields["recognise_minutes"]),
        approach_minutes=amount(fields["approach_minutes"]),
        positions=positions,
    )


def _places(fields: Mapping[str, Node]) -> Mapping[str, Place]:
    places: dict[str, Place] = {}
    for section in NAMED_SECTIONS:
        for name, node in fields[section].entries().items() if section in fields else ():
            places.setdefault(name, node.key_place or node.place)
    for section, node in fields.items():
        places.setdefault(section, node.key_place or node.place)
    return places
