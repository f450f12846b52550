"""The electrical keys of links and loads, the `switches` section and the breakers' `trip_curve`."""

from __future__ import annotations

from collections.abc import Mapping

from runner.airplane.electric.trait import Coil, Draw, LinkTraits, LoadTraits, Output, Switch, SwitchGate
from runner.airplane.electric.trip import TripCurve
from runner.airplane.load.field import amount, named, names, optional_amount, positive, word
from runner.airplane.model.wiring import LinkKind
from runner.document import Node

LINK_KEYS = ("milliohms", "drop_volts", "rating", "coil", "output", "switched")
LOAD_KEYS = ("draws", "drop_out_volts")
KIND_OF_KEY = {"drop_volts": LinkKind.DIODE, "coil": LinkKind.RELAY, "output": LinkKind.INVERTER}
"""Keys that say something of one kind of link only."""
LEAST_MILLIOHMS = "0.01"
MOST_DROP_VOLTS = 3.0


def read_load_traits(fields: Mapping[str, Node]) -> LoadTraits:
    """How a load draws, and the volts under which it stops."""
    draw = word(fields["draws"], Draw) if "draws" in fields else Draw.CURRENT
    return LoadTraits(draw, optional_amount(fields, "drop_out_volts", 0.0, at_most=1000))


def read_link_traits(
    fields: Mapping[str, Node], kind: LinkKind, buses: tuple[str, ...], switches: Mapping[str, Switch]
) -> LinkTraits:
    """What a link does to current, and what else than the selector closes it."""
    for key, only in KIND_OF_KEY.items():
        if key in fields and kind is not only:
            fields[key].fail(
                f'"{key}" belongs to {only}s, and this is a {kind}; remove it', at=fields[key].key_place
            )
    has = fields.keys()
    return LinkTraits(
        milliohms=amount(fields["milliohms"], at_least=LEAST_MILLIOHMS) if "milliohms" in has else None,
        drop_volts=amount(fields["drop_volts"], at_most=MOST_DROP_VOLTS) if "drop_volts" in has else None,
        rating=positive(fields["rating"]) if "rating" in has else None,
        coil=_coil(fields["coil"], buses) if "coil" in has else None,
        output=_output(fields["output"]) if "output" in has else None,
        gates=_gates(fields["switched"], switches) if "switched" in has else (),
    )


def _coil(node: Node, buses: tuple[str, ...]) -> Coil:
    fields = node.within("coil").mapping(required=("bus", "drop_out_volts"), optional=("amps",))
    return Coil(
        fields["bus"].one_of(buses),
        amount(fields["drop_out_volts"], at_most=1000),
        optional_amount(fields, "amps", 0.0),
    )


def _output(node: Node) -> Output:
    fields = node.within("output").mapping(
        required=("volts",), optional=("efficiency", "idle_watts", "rated_watts", "drop_out_volts")
    )
    efficiency = fields.get("efficiency")
    return Output(
        volts=positive(fields["volts"]),
        efficiency=1.0 if efficiency is None else amount(efficiency, at_least="0.05", at_most=1),
        idle_watts=optional_amount(fields, "idle_watts", 0.0),
        rated_watts=positive(fields["rated_watts"]) if "rated_watts" in fields else None,
        drop_out_volts=optional_amount(fields, "drop_out_volts", 0.0),
    )


def _gates(node: Node, switches: Mapping[str, Switch]) -> tuple[SwitchGate, ...]:
    entries = node.within("switched").entries()
    if not entries:
        node.fail('no switch is named here; write "NAME: [positions that close it]"')
    gates = []
    for name, positions in entries.items():
        if name not in switches:
            known = ", ".join(switches) or "none; describe it under switches"
            positions.fail(f'"{name}" is no switch of this file; known: {known}', at=positions.key_place)
        switch = switches[name]
        gates.append(SwitchGate(switch, frozenset(names(positions, switch.positions))))
    return tuple(gates)


def read_switches(node: Node) -> Mapping[str, Switch]:
    """Every switch by name, with where it stands when nobody says otherwise."""
    return {name: _switch(name, entry) for name, entry in named(node, "switch").items()}


def _switch(name: str, node: Node) -> Switch:
    fields = node.mapping(required=("positions", "normal", "parked"))
    positions = names(fields["positions"], fields["positions"].texts())
    if len(positions) < 2:  # noqa: PLR2004 - one position is no switch
        fields["positions"].fail("a switch has at least two positions; write the other")
    return Switch(name, positions, fields["normal"].one_of(positions), fields["parked"].one_of(positions))


def read_trip_curve(node: Node) -> TripCurve:
    """(Percent of the rating, seconds until it opens), from the first row on and ever shorter."""
    rows: list[tuple[float, float]] = []
    for row in node.within("trip_curve").items():
        fields = row.mapping(required=("percent", "seconds"))
        percent = amount(fields["percent"], at_least="101")
        seconds = positive(fields["seconds"])
        if rows and percent <= rows[-1][0]:
            fields["percent"].fail(f"{percent:g} does not follow {rows[-1][0]:g}; list the rows upward")
        if rows and seconds >= rows[-1][1]:
            fields["seconds"].fail(
                f"{seconds:g} s is no shorter than {rows[-1][1]:g} s at less current; lower it"
            )
        rows.append((percent, seconds))
    return tuple(rows)
