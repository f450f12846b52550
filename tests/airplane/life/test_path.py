"""Why a load is alive or dead."""

from collections.abc import Callable
from dataclasses import replace

from runner.airplane.life.path import path_to
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import on_battery


def test_a_live_load_shows_its_whole_way(small: Airplane) -> None:
    """From the source over buses, links and breaker to the load."""
    path = path_to(small, on_battery(small, "reserve"), small.loads["radio"])
    assert str(path) == "battery > hot bus > reserve relay > reserve bus > breaker radio > radio"


def test_a_shed_load_names_the_open_relay_before_the_lost_generator(small: Airplane) -> None:
    """What the selector did comes before what the day did."""
    path = path_to(small, on_battery(small, "reserve"), small.loads["heater"])
    assert str(path) == 'battery relay is open in "reserve"'


def test_each_break_names_its_own_cause(small: Airplane) -> None:
    """Breaker, link's breaker, stuck link, shorted bus, failed load and lost source each read differently."""
    reserve, radio = on_battery(small, "reserve"), small.loads["radio"]
    cases = {
        'breaker "radio" is out': replace(reserve, pulled=frozenset({"radio"})),
        'breaker "reserve feed" of the reserve relay is out': replace(
            reserve, pulled=frozenset({"reserve feed"})
        ),
        "reserve relay is stuck open": replace(reserve, stuck_open=frozenset({"reserve relay"})),
        "reserve bus is shorted": replace(reserve, shorted=frozenset({"reserve bus"})),
        "radio has failed": replace(reserve, failed=frozenset({"radio"})),
        "battery is lost": replace(reserve, lost=frozenset(small.sources)),
    }
    for cause, situation in cases.items():
        assert str(path_to(small, situation, radio)) == cause


def test_a_bus_that_no_source_can_reach_says_so(
    airplane_of: Callable[[str], Airplane], small_yaml: str
) -> None:
    """A drawing mistake in the file, not a fault of the day."""
    lonely = airplane_of(
        small_yaml.replace(
            "[hot bus, main bus, reserve bus]", "[hot bus, main bus, reserve bus, attic bus]"
        ).replace("{bus: reserve bus, amps: 1,", "{bus: attic bus, amps: 1,")
    )
    path = path_to(lonely, on_battery(lonely, "normal"), lonely.loads["reading light"])
    assert str(path) == "no source of this airplane reaches attic bus"


def test_every_dead_load_of_a_shipped_airplane_is_dead_for_a_reason_that_the_selector_gives(
    shipped: Airplane,
) -> None:
    """On the reserve, with nothing broken, each dead load points at a contact that the selector opened."""
    reserve = on_battery(shipped, shipped.selector.reserve)
    for load in shipped.loads.values():
        path = path_to(shipped, reserve, load)
        if path.breaks:
            assert str(path).endswith(f'is open in "{shipped.selector.reserve}"')


def test_a_relay_without_power_on_its_coil_is_the_reason(
    small_yaml: str, airplane_of: Callable[[str], Airplane]
) -> None:
    """The reserve relay's coil hangs on the main bus, which the reserve position leaves dead."""
    coil = "closed_in: reserve, coil: {bus: main bus, drop_out_volts: 9}, breaker"
    airplane = airplane_of(small_yaml.replace("closed_in: reserve, breaker", coil))
    way = path_to(airplane, on_battery(airplane, "reserve"), airplane.loads["radio"])
    assert str(way) == "reserve relay is open: its coil has no power from the main bus"


def test_a_switch_that_is_off_is_the_reason(small_yaml: str, airplane_of: Callable[[str], Airplane]) -> None:
    """The switch and where it stands."""
    words = small_yaml.replace(
        "closed_in: reserve, breaker", "closed_in: reserve, switched: {arm: hot}, breaker"
    )
    words = words.replace(
        "links:\n", "switches:\n  arm: {positions: [hot, cold], normal: hot, parked: cold}\nlinks:\n", 1
    )
    airplane = airplane_of(words)
    situation = replace(on_battery(airplane, "reserve"), moved=frozenset({("arm", "cold")}))
    way = path_to(airplane, situation, airplane.loads["radio"])
    assert str(way) == 'reserve relay is open: arm stands at "cold"'
