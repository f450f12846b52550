"""The `instruments`, `gyros`, `lamps`, `radios` and `voltmeter` sections of an airplane file."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from runner.airplane.load.field import day, names, positive, word, words
from runner.airplane.model.instrument import (
    AirDrive,
    Drive,
    Gyro,
    Instrument,
    Lamp,
    LoadDrive,
    OwnBatteryDrive,
    Part,
    Radio,
    Seat,
    SelfDrive,
    Sense,
    VacuumDrive,
    VoltBands,
    Voltmeter,
)
from runner.document import Node

DRIVES = ("loads", "own_battery_minutes", "vacuum", "air", "itself")
RADIO_SERVICES = (Sense.COMMUNICATION, Sense.NAVIGATION)


@dataclass(frozen=True, slots=True)
class Powers:
    """What an instrument may be driven by."""

    loads: tuple[str, ...]
    pumps: tuple[str, ...]


def read_instrument(name: str, node: Node, powers: Powers) -> Instrument:
    """One instrument, all of a piece or in parts."""
    fields = node.mapping(required=("seat",), optional=("senses", "driven_by", "parts"))
    seat = word(fields["seat"], Seat)
    if "parts" not in fields:
        whole = node.mapping(required=("seat", "senses", "driven_by"))
        return Instrument(name, seat, (_part("", whole, powers),))
    for key in ("senses", "driven_by"):
        if key in fields:
            fields[key].refuse(f'"{key}" beside "parts"; move it into each part', at=fields[key].key_place)
    parts = fields["parts"].entries()
    if len(parts) < 2:  # noqa: PLR2004 - one part is no division
        fields["parts"].refuse(
            "an instrument in parts has at least two; write the other, or drop the division"
        )
    return Instrument(
        name,
        seat,
        tuple(
            _part(label, part.within(f'part "{label}"').mapping(required=("senses", "driven_by")), powers)
            for label, part in parts.items()
        ),
    )


def _part(label: str, fields: Mapping[str, Node], powers: Powers) -> Part:
    driven = fields["driven_by"]
    listed = driven.items() if isinstance(driven.value, tuple) else (driven,)
    return Part(label, words(fields["senses"], Sense), tuple(_drive(each, powers) for each in listed))


def _drive(node: Node, powers: Powers) -> Drive:
    if node.value == "air":
        return AirDrive("pitot and static")
    if node.value == "itself":
        return SelfDrive()
    if isinstance(node.value, str):
        node.refuse(f'"{node.value}" drives nothing; write air, itself, or {{{DRIVES[0]}: ...}} and the like')
        return SelfDrive()
    return _powered(node, powers)


def _powered(node: Node, powers: Powers) -> Drive:
    fields = dict(node.mapping(optional=(*DRIVES[:3], "tested")))
    tested = fields.pop("tested", None)
    if tested is not None and "own_battery_minutes" not in fields:
        tested.refuse('"tested" belongs beside "own_battery_minutes"; remove it', at=tested.key_place)
    if len(fields) != 1:
        node.refuse(f"{len(fields)} powers in one entry; write one of {', '.join(DRIVES)} in each")
        return SelfDrive()
    ((key, value),) = fields.items()
    if key == "loads":
        return LoadDrive(names(value, powers.loads))
    if key == "vacuum":
        return VacuumDrive(value.one_of(powers.pumps))
    return OwnBatteryDrive(positive(value), None if tested is None else day(tested))


def read_gyro(name: str, node: Node, loads: tuple[str, ...], instruments: tuple[str, ...]) -> Gyro:
    """One electric gyro with its advise and limit seconds."""
    fields = node.mapping(required=("load", "instrument", "advise_seconds", "limit_seconds"))
    advise, limit = positive(fields["advise_seconds"]), positive(fields["limit_seconds"])
    if limit <= advise:
        fields["limit_seconds"].refuse(
            f"the limit of {limit:g} s is not after the advise time of {advise:g} s; raise it"
        )
    return Gyro(name, fields["load"].one_of(loads), fields["instrument"].one_of(instruments), advise, limit)


def read_lamp(name: str, node: Node, loads: tuple[str, ...]) -> Lamp:
    """Lamps on one load."""
    fields = node.mapping(required=("load", "bulbs"), optional=("dimmer",))
    bulbs = names(fields["bulbs"], fields["bulbs"].texts())
    return Lamp(name, fields["load"].one_of(loads), bulbs, "dimmer" in fields and fields["dimmer"].flag())


def read_radio(name: str, node: Node, loads: tuple[str, ...]) -> Radio:
    """One radio as fitted."""
    fields = node.mapping(required=("service", "load"), optional=("differs",))
    service = Sense(fields["service"].one_of(RADIO_SERVICES))
    differs = fields["differs"].text() if "differs" in fields else ""
    return Radio(name, service, fields["load"].one_of(loads), differs)


def read_voltmeter(node: Node, readable: tuple[str, ...]) -> Voltmeter:
    """The meter that the check reads, with its bands."""
    fields = node.within("voltmeter").mapping(required=("instrument", "resolution", "at_rest", "on_reserve"))
    positive(fields["resolution"])
    return Voltmeter(
        fields["instrument"].one_of(readable),
        fields["resolution"].number(),
        _bands(fields["at_rest"].within("at_rest")),
        _bands(fields["on_reserve"].within("on_reserve")),
    )


def _bands(node: Node) -> VoltBands:
    fields = node.mapping(required=("pass", "caution"))
    passing, caution = _band(fields["pass"]), _band(fields["caution"])
    if passing[0] < caution[0] or passing[1] > caution[1]:
        fields["caution"].refuse("the caution band does not hold the pass band; widen it")
    return VoltBands(passing, caution)


def _band(node: Node) -> tuple[Decimal, Decimal]:
    ends = tuple(each.number(at_least="0") for each in node.items())
    if len(ends) != 2:  # noqa: PLR2004 - a band has two ends
        node.refuse(f"a band has two ends, not {len(ends)}; write [low, high]")
        return Decimal(0), Decimal(0)
    if ends[0] > ends[1]:
        node.refuse(f"band {ends[0]} to {ends[1]} is upside down; write [{ends[1]}, {ends[0]}]")
    return ends[0], ends[1]
