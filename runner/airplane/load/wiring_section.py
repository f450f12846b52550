"""The `selector`, `buses`, `links`, `breakers` and `loads` sections of an airplane file."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from runner.airplane.electric.section import LINK_KEYS, LOAD_KEYS, read_link_traits, read_load_traits
from runner.airplane.electric.trait import Switch
from runner.airplane.load.field import amount, named, names, positive, word
from runner.airplane.model.wiring import Act, Feed, Keep, Link, LinkKind, Load, Phase, Selector, Service
from runner.document import Node


@dataclass(frozen=True, slots=True)
class Known:
    """Names that later sections may refer to."""

    positions: tuple[str, ...]
    buses: tuple[str, ...]
    breakers: tuple[str, ...]
    switches: Mapping[str, Switch] = field(default_factory=dict)


def read_selector(node: Node) -> Selector:
    """The selector with its positions in panel order."""
    fields = node.within("selector").mapping(required=("name", "positions", "normal", "parked", "reserve"))
    listed = [each.text() for each in fields["positions"].items()]
    positions = names(fields["positions"], listed)
    reserve = fields["reserve"].one_of(positions)
    for role in ("normal", "parked"):
        if fields[role].one_of(positions) == reserve:
            fields["reserve"].refuse(
                f'"{reserve}" is the {role} position as well; the reserve needs one of its own'
            )
    return Selector(
        fields["name"].text(), positions, fields["normal"].text(), fields["parked"].text(), reserve
    )


def read_breakers(node: Node) -> Mapping[str, float]:
    """Breaker ratings in amperes by name."""
    return {name: positive(rating) for name, rating in named(node, "breaker").items()}


def read_links(node: Node, known: Known) -> Mapping[str, Link]:
    """Every link between two buses by name."""
    return {name: _link(name, entry, known) for name, entry in named(node, "link").items()}


def _link(name: str, node: Node, known: Known) -> Link:
    fields = node.mapping(required=("kind", "joins"), optional=("closed_in", "breaker", *LINK_KEYS))
    ends = names(fields["joins"], known.buses)
    if len(ends) != 2:  # noqa: PLR2004 - a conductor has two ends
        fields["joins"].refuse(f"a link joins two buses, not {len(ends)}; write [from, to]")
        ends = ("", "")
    closed = names(fields["closed_in"], known.positions) if "closed_in" in fields else known.positions
    breaker = fields["breaker"].one_of(known.breakers) if "breaker" in fields else None
    kind = word(fields["kind"], LinkKind)
    traits = read_link_traits(fields, kind, known.buses, known.switches)
    return Link(name, kind, ends[0], ends[1], frozenset(closed), breaker, traits)


def read_loads(node: Node, known: Known) -> Mapping[str, Load]:
    """Every load by name."""
    return {name: _load(name, entry, known) for name, entry in named(node, "load").items()}


def _load(name: str, node: Node, known: Known) -> Load:
    fields = node.mapping(
        required=("service", "amps"),
        optional=("bus", "breaker", "feeds", "surge", "duty", "keep", "switch", "acts", *LOAD_KEYS),
    )
    amps = amount(fields["amps"])
    surge = amount(fields["surge"]) if "surge" in fields else amps
    if surge < amps:
        fields["surge"].refuse(
            f"a surge of {surge:g} is below the steady {amps:g} amps; write the larger figure"
        )
    return Load(
        name=name,
        feeds=_feeds(node, fields, known),
        amps=amps,
        surge_amps=surge,
        duty=_duty(fields["duty"]) if "duty" in fields else dict.fromkeys(Phase, 1.0),
        service=word(fields["service"], Service),
        keep=word(fields["keep"], Keep) if "keep" in fields else Keep.WANT,
        switch=fields["switch"].text() if "switch" in fields else None,
        acts=word(fields["acts"], Act) if "acts" in fields else None,
        traits=read_load_traits(fields),
    )


def _feeds(node: Node, fields: Mapping[str, Node], known: Known) -> tuple[Feed, ...]:
    if "feeds" not in fields:
        if "bus" not in fields:
            node.refuse('"bus" is missing; add "bus: ..." (or "feeds:" for a load with more than one)')
            return ()
        return (_feed(fields, known),)
    for key in ("bus", "breaker"):
        if key in fields:
            fields[key].refuse(f'"{key}" beside "feeds"; move it into the list', at=fields[key].key_place)
    listed = fields["feeds"].items()
    return tuple(_feed(each.mapping(required=("bus",), optional=("breaker",)), known) for each in listed)


def _feed(fields: Mapping[str, Node], known: Known) -> Feed:
    breaker = fields["breaker"].one_of(known.breakers) if "breaker" in fields else None
    return Feed(fields["bus"].one_of(known.buses), breaker)


def _duty(node: Node) -> Mapping[Phase, float]:
    if isinstance(node.value, str):
        return dict.fromkeys(Phase, amount(node, at_most=1))
    fields = node.within("duty").mapping(optional=tuple(Phase))
    return {phase: amount(fields[phase], at_most=1) if phase in fields else 1.0 for phase in Phase}
