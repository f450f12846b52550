"""The `sources` section of an airplane file."""

from collections.abc import Mapping

from runner.airplane.load.field import amount, day, named, optional_amount, positive, word
from runner.airplane.model.source import (
    Battery,
    CapacityTest,
    Chemistry,
    Generator,
    GroundPower,
    Source,
    Tolerance,
)
from runner.document import Node


def read_sources(node: Node, buses: tuple[str, ...]) -> Mapping[str, Source]:
    """Every source by name; one of them at least is a battery, and the first is the one that checks read."""
    sources = {name: _source(name, entry, buses) for name, entry in named(node, "source").items()}
    if not any(isinstance(source, Battery) for source in sources.values()):
        node.refuse("no source is a battery; describe at least one")
    return sources


def _source(name: str, node: Node, buses: tuple[str, ...]) -> Source:
    kinds = ("battery", "generator", "alternator", "ground power")
    entries = node.entries()
    if "kind" not in entries:
        node.refuse(f'"kind" is missing; add "kind: ..." with one of: {", ".join(kinds)}')
        return Generator(name, "", 0.0, 0.0)
    kind = entries["kind"].one_of(kinds)
    if entries["kind"].text() != kind:  # told; what such a source should have is not known
        return Generator(name, "", 0.0, 0.0)
    if kind == "battery":
        return _battery(name, node, buses)
    if kind == "ground power":
        fields = node.mapping(required=("kind", "bus", "amps", "volts"))
        return GroundPower(
            name, fields["bus"].one_of(buses), positive(fields["amps"]), positive(fields["volts"])
        )
    return _generator(name, node, buses)


def _generator(name: str, node: Node, buses: tuple[str, ...]) -> Generator:
    fields = node.mapping(required=("kind", "bus", "amps", "volts"), optional=("limit_amps", "droop_percent"))
    amps = positive(fields["amps"])
    limit = positive(fields["limit_amps"]) if "limit_amps" in fields else None
    if limit is not None and limit < amps:
        fields["limit_amps"].fail(
            f"a limit of {limit:g} is below the rating of {amps:g} amps; write the larger figure"
        )
    droop = amount(fields["droop_percent"], at_least="0.1", at_most=20) if "droop_percent" in fields else 1.0
    return Generator(name, fields["bus"].one_of(buses), amps, positive(fields["volts"]), limit, droop)


def _battery(name: str, node: Node, buses: tuple[str, ...]) -> Battery:
    fields = node.mapping(
        required=("kind", "bus", "chemistry", "cells", "ampere_hours", "hour_rate", "end_volts", "tested"),
        optional=(
            "peukert",
            "fade_percent_per_year",
            "charge_percent",
            "celsius",
            "temperature",
            "tolerance",
            "milliohms",
            "charge_amps",
        ),
    )
    cells = fields["cells"].number(at_least="1")
    if cells != cells.to_integral_value():
        fields["cells"].refuse(f"{cells} is not a whole number of cells; write one such as 20")
    chemistry = word(fields["chemistry"], Chemistry)
    if chemistry is not Chemistry.LEAD_ACID and "temperature" not in fields:
        node.refuse(
            f'"temperature" is missing; add the maker\'s table, no general one serves {chemistry}:'
            ' "temperature: [{celsius: 0, share: 0.9}, {celsius: 23, share: 1.0}]"'
        )
    peukert = amount(fields["peukert"], at_least="1", at_most=2) if "peukert" in fields else 1.0
    return Battery(
        name=name,
        bus=fields["bus"].one_of(buses),
        chemistry=chemistry,
        cells=int(cells),
        ampere_hours=positive(fields["ampere_hours"]),
        hour_rate=positive(fields["hour_rate"]),
        end_volts=positive(fields["end_volts"]),
        peukert=peukert,
        tested=_tested(fields["tested"]),
        fade_percent_per_year=optional_amount(fields, "fade_percent_per_year", 0.0, at_most=100),
        charge_percent=optional_amount(fields, "charge_percent", 100.0, at_most=100),
        celsius=amount(fields["celsius"], at_least="-60", at_most=80) if "celsius" in fields else 25.0,
        temperature_shares=_temperature(fields["temperature"]) if "temperature" in fields else (),
        tolerance=_tolerance(fields["tolerance"]) if "tolerance" in fields else Tolerance(),
        milliohms=amount(fields["milliohms"], at_most=1000) if "milliohms" in fields else None,
        charge_amps=amount(fields["charge_amps"]) if "charge_amps" in fields else None,
    )


def _tested(node: Node) -> CapacityTest:
    fields = node.within("tested").mapping(required=("percent", "date"))
    return CapacityTest(amount(fields["percent"], at_most=150), day(fields["date"]))


def _temperature(node: Node) -> tuple[tuple[float, float], ...]:
    rows: list[tuple[float, float]] = []
    for row in node.within("temperature").items():
        fields = row.mapping(required=("celsius", "share"))
        celsius = amount(fields["celsius"], at_least="-60", at_most=80)
        if rows and celsius <= rows[-1][0]:
            fields["celsius"].refuse(
                f"{celsius:g} does not follow {rows[-1][0]:g}; list the rows from cold to warm"
            )
        rows.append((celsius, amount(fields["share"], at_most=1)))
    return tuple(rows)


def _tolerance(node: Node) -> Tolerance:
    known = ("capacity_percent", "amps_percent", "charge_percent", "celsius")
    fields = node.within("tolerance").mapping(optional=known)
    return Tolerance(**{key: amount(value, at_most=50) for key, value in fields.items()})
