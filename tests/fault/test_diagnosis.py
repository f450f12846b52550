"""Where to look next: every failure injected, and the information of a look by brute force."""

from math import log2

import pytest

from runner.airplane.model.airplane import Airplane
from runner.fault.diagnosis import MISREAD, Diagnosis, Suspect, ToldSign, diagnose, information
from runner.fault.fault import Fault, Kind, ailing
from runner.fault.fault_audit import audit
from runner.fault.fault_walk import answers, walks
from runner.fault.look import Seen
from tests.checklist.shipped import shipped_airplane, shipped_check

CASES = (("merlow-ml2", "merlow-reserve"), ("tarn-qx83", "tarn-reserve"))
IN_THE_FIRST = 3
GOAL = 0.95


def injected(airplane: Airplane, check: str, fault: Fault, *, left_out: str = "") -> Diagnosis:
    """The diagnosis of a check that was walked, but for one item, on an airplane with this failure."""
    (way, *_) = walks(shipped_check(check), airplane)
    seen_by = answers(way, Seen(ailing(airplane, fault)))
    told = [ToldSign(item, seen) for item, seen in seen_by if item != left_out]
    return diagnose(airplane, way, told)


@pytest.mark.parametrize(("name", "check"), CASES)
def test_an_injected_failure_is_among_the_first_three(name: str, check: str) -> None:
    """Of all failures that the shipped check notices, at least 95 of 100."""
    airplane = shipped_airplane(name)
    noticed = audit(shipped_check(check), airplane).noticed
    ranks = []
    for fault in noticed:
        suspects = [each.fault for each in injected(airplane, check, fault).suspects]
        ranks.append(suspects.index(fault))
    share = sum(rank < IN_THE_FIRST for rank in ranks) / len(ranks)
    assert len(ranks) >= 40
    assert share >= GOAL


@pytest.mark.parametrize(("name", "check"), CASES)
def test_a_healthy_airplane_has_no_suspects(name: str, check: str) -> None:
    """Nothing unusual, nothing suspected."""
    airplane = shipped_airplane(name)
    (way, *_) = walks(shipped_check(check), airplane)
    told = [ToldSign(item, seen) for item, seen in answers(way, Seen(ailing(airplane)))]
    assert diagnose(airplane, way, told) == Diagnosis((), None, ())


def test_probabilities_add_to_one_and_are_told_the_likeliest_first() -> None:
    """Among single failures."""
    airplane = shipped_airplane("merlow-ml2")
    suspects = injected(airplane, "merlow-reserve", Fault(Kind.BREAKER_OUT, "nav 1")).suspects
    chances = [each.probability for each in suspects]
    assert sum(chances) == pytest.approx(1)
    assert chances == sorted(chances, reverse=True)


def test_what_is_dead_together_names_what_it_shares() -> None:
    """The reserve inverter's breaker: compass and losses hang on it."""
    airplane = shipped_airplane("tarn-qx83")
    found = injected(airplane, "tarn-reserve", Fault(Kind.BREAKER_OUT, "minimum normal feed"))
    assert "minimum normal feed" in found.shared


def test_a_word_of_what_was_seen_is_enough_without_the_word_itself() -> None:
    """An item that is only known to be unusual points the same way."""
    airplane = shipped_airplane("merlow-ml2")
    (way, *_) = walks(shipped_check("merlow-reserve"), airplane)
    usual = dict(answers(way, Seen(ailing(airplane))))
    ill = dict(answers(way, Seen(ailing(airplane, Fault(Kind.DEAD, "navigation 1")))))
    told = [ToldSign(item, None, is_usual=usual[item] == seen) for item, seen in ill.items()]
    first = [each.fault.name for each in diagnose(airplane, way, told).suspects[:2]]
    assert set(first) == {"nav 1", "navigation 1"}


def by_brute_force(suspects: list[Suspect], shown: dict[Fault, str]) -> float:
    """Entropy before, less the entropy after each outcome weighted by its chance: Bayes written out."""
    kinds = sorted(set(shown.values()))
    before = -sum(each.probability * log2(each.probability) for each in suspects if each.probability)
    after = 0.0
    for seen in kinds:
        joint = [
            each.probability * (1 - MISREAD if shown[each.fault] == seen else MISREAD / (len(kinds) - 1))
            for each in suspects
        ]
        chance = sum(joint)
        after += chance * -sum(each / chance * log2(each / chance) for each in joint if each)
    return before - after


@pytest.mark.parametrize("weights", [(1, 1), (5, 3, 2), (8, 1, 1, 1), (1, 2, 3, 4, 5)])
@pytest.mark.parametrize("pattern", ["ab", "aab", "abc", "abbca"])
def test_the_information_of_a_look_is_that_of_bayes_written_out(
    weights: tuple[int, ...], pattern: str
) -> None:
    """Mutual information has one value, whichever entropy it is taken from."""
    faults = [Fault(Kind.DEAD, f"load {number}") for number in range(len(weights))]
    suspects = [Suspect(fault, weight / sum(weights)) for fault, weight in zip(faults, weights, strict=True)]
    shown = {fault: pattern[number % len(pattern)] for number, fault in enumerate(faults)}
    if len(set(shown.values())) > 1:
        assert information(suspects, shown) == pytest.approx(by_brute_force(suspects, shown))


def test_the_next_look_tells_the_likeliest_apart(merlow: Airplane) -> None:
    """Two loads behind one breaker: a look at the other one decides between the breaker and the load."""
    fault = Fault(Kind.BREAKER_OUT, "reserve inverter")
    found = injected(merlow, "merlow-reserve", fault, left_out="reserve inverter")
    assert found.next_look is not None
    assert str(found.next_look.look) == 'reserve inverter losses (life) in "reserve"'
    assert found.next_look.bits > 0.1
    assert len(found.next_look.outcomes) >= 2
