"""What `eyesout endurance` reports: the reckoning, its low case, the loads to shed, and the assumptions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

from runner.airplane.minutes.capacity import Conditions, Health, health_of, percent_now
from runner.airplane.minutes.chance import LOW_PERCENT, Spread, spread_of
from runner.airplane.minutes.generator import Loading, loadings
from runner.airplane.minutes.reckoning import Endurance, demand, endurance
from runner.airplane.minutes.shedding import Shedding, shedding_for
from runner.airplane.model.airplane import Airplane, EndurancePlan
from runner.airplane.model.wiring import Phase

TARGETS: Final = (30.0, 60.0)
"""Minutes of 14 CFR 23.1353(h) as of 2014: up to 25,000 ft and above it (values from memory)."""


@dataclass(frozen=True, slots=True)
class EnduranceReport:
    """Everything that is said about one battery in one set of conditions."""

    airplane: Airplane
    conditions: Conditions
    plan: EndurancePlan
    plain: Endurance
    spread: Spread
    sheddings: tuple[Shedding, ...]
    elsewhere: Mapping[str, Endurance]
    """The same with the cruise and approach flown in another selector position that the battery feeds."""
    loadings: tuple[Loading, ...]

    @property
    def health(self) -> Health:
        """What the last capacity test, faded to this day, means."""
        return health_of(percent_now(self.airplane.battery, self.conditions.on))


def endurance_report(
    airplane: Airplane, conditions: Conditions, plan: EndurancePlan, targets: tuple[float, ...] = TARGETS
) -> EnduranceReport:
    """Reckon all of it."""
    needs = demand(airplane, plan.positions)
    return EnduranceReport(
        airplane=airplane,
        conditions=conditions,
        plan=plan,
        plain=endurance(airplane, conditions, plan),
        spread=spread_of(airplane.battery, conditions, needs, plan),
        sheddings=tuple(shedding_for(airplane, conditions, plan, target) for target in targets),
        elsewhere=_elsewhere(airplane, conditions, plan),
        loadings=loadings(airplane),
    )


def _elsewhere(airplane: Airplane, conditions: Conditions, plan: EndurancePlan) -> Mapping[str, Endurance]:
    flown = {plan.positions[Phase.CRUISE], plan.positions[Phase.APPROACH]}
    others = [
        each for each in airplane.selector.positions if each not in flown and each != airplane.selector.parked
    ]
    return {
        position: endurance(
            airplane,
            conditions,
            replace(plan, positions={**plan.positions, Phase.CRUISE: position, Phase.APPROACH: position}),
        )
        for position in others
    }


def assumptions(report: EnduranceReport) -> tuple[str, ...]:
    """What the figures rest on, as sentences."""
    battery, may = report.airplane.battery, report.airplane.battery.tolerance
    table = "the maker's table" if battery.temperature_shares else "IEEE 485"
    tested = f"last test {battery.tested.percent:g} % on {battery.tested.on}"
    cell = f"fading {battery.fade_percent_per_year:g} % a year; temperature by {table}"
    rate = f"Peukert's exponent {battery.peukert:g} at the {battery.hour_rate:g} h rate"
    off = f"capacity ±{may.capacity_percent:g} %, charge ±{may.charge_percent:g} %"
    off += f", current ±{may.amps_percent:g} %, temperature ±{may.celsius:g} C"
    seed = f"{report.spread.samples:,} samples, seed {report.spread.seed}"
    return (
        f"Loads draw their steady current at the duty of the file; {_surge_words(report.airplane)}.",
        f"The loss is recognised and loads are shed within {report.plan.recognise_minutes:g} min.",
        f"Capacity: {tested}, {cell}.",
        f"{rate}, never claiming more than rated.",
        f"Low case: {LOW_PERCENT:g} of 100 flights are shorter, with {off} ({seed}).",
        "The approved flight manual governs, always; this is no electrical load analysis.",
    )


def _surge_words(airplane: Airplane) -> str:
    """What is left out, with the largest as the file has it."""
    load = max(airplane.loads.values(), key=lambda load: load.surge_amps - load.amps, default=None)
    if load is None or load.surge_amps <= load.amps:
        return "start surges are left out"
    return f"start surges are left out (up to {load.surge_amps:g} A: {load.name})"


def endurance_dict(report: EnduranceReport) -> Mapping[str, object]:
    """The report as plain data for JSON; minutes, amperes, ampere-hours and shares of 1."""
    plain, spread = report.plain, report.spread
    return {
        "airplane": report.airplane.name,
        "title": report.airplane.title,
        "registration": report.airplane.registration,
        "on": report.conditions.on.isoformat(),
        "usable": {
            "rated_ampere_hours": plain.usable.rated,
            "health_share": round(plain.usable.health, 4),
            "temperature_share": round(plain.usable.temperature, 4),
            "charge_share": round(plain.usable.charge, 4),
            "ampere_hours": round(plain.usable.ampere_hours, 2),
        },
        "health": report.health,
        "phases": [
            {
                "phase": use.phase,
                "position": use.position,
                "amps": round(use.amps, 2),
                "minutes": round(use.minutes, 2),
                "ampere_hours": round(use.ampere_hours, 2),
            }
            for use in plain.phases
        ],
        "total_minutes": round(plain.total_minutes, 1),
        "required_minutes": plain.required_minutes,
        "reaches_required": plain.is_enough,
        "low_minutes": round(spread.low, 1),
        "median_minutes": round(spread.median, 1),
        "high_minutes": round(spread.high, 1),
        "share_reaching_required": round(spread.enough_share, 4),
        "samples": spread.samples,
        "seed": spread.seed,
        "shedding": [_shedding(each) for each in report.sheddings],
        "other_positions_minutes": {
            position: round(each.total_minutes, 1) for position, each in report.elsewhere.items()
        },
        "generators": [_loading(each) for each in report.loadings],
        "assumptions": list(assumptions(report)),
    }


def _shedding(found: Shedding) -> Mapping[str, object]:
    return {
        "target_minutes": found.target_minutes,
        "reached": found.is_enough,
        "loads": list(found.loads),
        "total_minutes": round(found.total_minutes, 1),
        "low_minutes": round(found.low_minutes, 1),
    }


def _loading(found: Loading) -> Mapping[str, object]:
    return {
        "lost": found.lost or None,
        "generator": found.generator,
        "amps": round(found.amps, 1),
        "rated_amps": found.rated_amps,
        "over_80_percent": found.is_over,
    }
