"""Each kind of fault, missed by a careless student and caught by one who looks; answers against the panel."""

from dataclasses import replace

import pytest

from runner.drill.judged.judgement import AnswerVerdict
from runner.drill.played.hidden import Hidden, HiddenKind
from runner.drill.story.drill_story import invent_story
from tests.drill.player import careless, perfect
from tests.drill.sample import ON, drilled

ON_THE_GROUND = (
    (0, Hidden(HiddenKind.BREAKER_OUT, "left attitude")),
    (0, Hidden(HiddenKind.WELDED, "battery relay")),
    (0, Hidden(HiddenKind.NOT_CLOSING, "reserve relay")),
    (0, Hidden(HiddenKind.BROKEN, "reserve inverter")),
    (1, Hidden(HiddenKind.SHORTED, "minimum diode")),
    (0, Hidden(HiddenKind.DEAD, "fire warning")),
    (0, Hidden(HiddenKind.BULB_OUT, "gear lamps", "nose")),
    (0, Hidden(HiddenKind.WEAK_CELL, "main battery")),
    (0, Hidden(HiddenKind.MISWIRED, "communication 1")),
    (0, Hidden(HiddenKind.FLAG_LATE, "left attitude gyro")),
    (0, Hidden(HiddenKind.FLAG_NEVER, "left attitude gyro")),
    (0, Hidden(HiddenKind.FLAG_BACK, "left attitude gyro")),
    (0, Hidden(HiddenKind.TUMBLES, "left attitude gyro")),
    (0, Hidden(HiddenKind.DEAF, "navigation 1")),
    (0, Hidden(HiddenKind.DEAF, "communication 2")),
    (0, Hidden(HiddenKind.NOT_RESTORED, "feed selector")),
    (0, Hidden(HiddenKind.DEAD, "flood lamps", comes_and_goes=True)),
    (2, Hidden(HiddenKind.TIE_STUCK, "essential feed")),
    (1, Hidden(HiddenKind.METER_LOW, "battery voltmeter")),
)


@pytest.mark.parametrize(("number", "fault"), ON_THE_GROUND, ids=str)
def test_a_fault_is_caught_by_who_looks_and_missed_by_who_does_not(number: int, fault: Hidden) -> None:
    """The perfect student catches it and invents nothing; the careless one misses what could be seen."""
    airplane, check = drilled(number)
    story = invent_story(check, airplane, ON, level=1, seed=3, faults=[fault])
    caught = perfect(story, check).judgement
    assert caught is not None
    assert caught.caught == (fault,)
    assert caught.invented == ()
    missed = careless(story, check).judgement
    assert missed is not None
    assert missed.caught == ()
    assert missed.missed == (fault,)
    assert missed.faults[0].seen_at is not None
    assert missed.faults[0].seen_in


def test_a_stuck_meter_is_caught_by_who_knows_how_far_it_should_fall() -> None:
    """A small battery sags by half a volt and more; a needle that stays is called by who knows that."""
    airplane, check = drilled(0)
    battery = airplane.battery
    small = replace(battery, ampere_hours=battery.ampere_hours / 6)
    airplane = replace(airplane, sources={**airplane.sources, battery.name: small})
    fault = Hidden(HiddenKind.METER_STUCK, "battery voltmeter")
    story = invent_story(check, airplane, ON, level=1, seed=3, faults=[fault])
    caught, missed = perfect(story, check, knows_volts=True).judgement, careless(story, check).judgement
    assert caught is not None
    assert missed is not None
    assert (caught.caught, missed.missed) == ((fault,), (fault,))


def test_a_healthy_airplane_gives_nothing_to_find() -> None:
    """Without a fault every answer of who looks is right, and nothing is caught or invented."""
    airplane, check = drilled(0)
    story = invent_story(check, airplane, ON, level=1, seed=3, count=0)
    judgement = perfect(story, check).judgement
    assert judgement is not None
    assert {answer.verdict for answer in judgement.answers} == {AnswerVerdict.RIGHT}
    assert (judgement.faults, judgement.invented) == ((), ())
