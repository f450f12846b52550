"""An evident failure together with a hidden one: what is lost, which seat keeps what, minutes left."""

from datetime import date

from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import Seat, Sense
from runner.fault.fault import Fault, Kind
from runner.fault.pair import evident_failures, outlook, outlooks

ON = date(2026, 11, 25)


def test_evident_failures_are_generators_the_reserve_and_buses(merlow: Airplane) -> None:
    """Each generator, all of them at once, each bus."""
    names = [each.name for each in evident_failures(merlow)]
    assert names[:3] == [
        "left generator lost",
        "right generator lost",
        'all generators lost, "reserve" selected',
    ]
    assert len(names) == 3 + len(merlow.buses)


def test_a_hidden_reserve_relay_takes_the_reserve_when_it_is_needed(merlow: Airplane) -> None:
    """All generators lost is borne; with a relay that does not close nothing of the reserve is left."""
    evident = next(each for each in evident_failures(merlow) if "all generators" in each.name)
    alone = outlook(merlow, evident, None, ON)
    both = outlook(merlow, evident, Fault(Kind.NOT_CLOSING, "reserve relay"), ON)
    assert alone.lost == ()
    assert alone.minutes is not None
    assert alone.minutes > 60
    assert "communication 2" in both.lost
    left = dict(both.seats)[Seat.LEFT]
    assert Sense.COMMUNICATION in left


def test_a_hidden_drain_shortens_the_battery(merlow: Airplane) -> None:
    """A windshield heater that is welded to the battery through its relay costs most of the minutes."""
    evident = next(each for each in evident_failures(merlow) if "all generators" in each.name)
    alone = outlook(merlow, evident, None, ON)
    both = outlook(merlow, evident, Fault(Kind.WELDED, "battery relay"), ON)
    assert alone.minutes is not None
    assert both.minutes is not None
    assert both.minutes < alone.minutes / 5


def test_one_generator_lost_draws_nothing_from_the_battery(merlow: Airplane) -> None:
    """The other one carries all, so that there are no minutes to tell."""
    evident = next(evident_failures(merlow))
    assert outlook(merlow, evident, None, ON).minutes is None


def test_only_pairs_that_make_it_worse_are_told(merlow: Airplane) -> None:
    """Each evident failure alone, then what a hidden one adds."""
    hidden = (Fault(Kind.NOT_CLOSING, "reserve relay"), Fault(Kind.DEAD, "cabin lights"))
    found = outlooks(merlow, hidden, ON)
    assert {each.hidden for each in found} == {None, hidden[0]}
