"""Everything questionable in an airplane file at once, in the order of the file."""

from __future__ import annotations

from runner.airplane.model.airplane import Airplane
from runner.airplane.survey.remark import Remark
from runner.airplane.survey.reserve_side import judge_reserve
from runner.airplane.survey.rule_side import judge_rules
from runner.airplane.survey.supply_side import judge_sources
from runner.airplane.survey.wire_side import judge_wires


def remarks(airplane: Airplane) -> tuple[Remark, ...]:
    """Every remark, by line and column."""
    found = (
        *judge_sources(airplane),
        *judge_wires(airplane),
        *judge_reserve(airplane),
        *judge_rules(airplane),
    )
    return tuple(sorted(dict.fromkeys(found), key=lambda each: (each.place.line, each.place.column)))
