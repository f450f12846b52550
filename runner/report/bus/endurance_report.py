"""What `eyesout endurance` reports: the reckoning, its low case, the loads to shed, and the assumptions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from math import isinf
from typing import Final

from runner.airplane.electric.conductor import planned_state
from runner.airplane.electric.likely import stamina_spread
from runner.airplane.minutes.capacity import Conditions, Health, health_of, percent_now
from runner.airplane.minutes.chance import LOW_PERCENT, Spread
from runner.airplane.minutes.generator import Loading, loadings
from runner.airplane.minutes.reckoning import Endurance, endurance
from runner.airplane.minutes.shedding import Gain, Shedding, gains, shedding_for
from runner.airplane.minutes.stamina import Stamina, stamina
from runner.airplane.minutes.standing_now import Drain, next_test, parked_drain, recovery_minutes
from runner.airplane.model.airplane import Airplane, EndurancePlan
from runner.airplane.model.source import Generator
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
    """By ampere-minutes alone."""
    stamina: Stamina
    """By volts, charge and temperature, minute by minute."""
    spread: Spread
    """Of the stamina."""
    helped: Mapping[str, Stamina]
    """The same with one generator still turning."""
    drain: Drain
    gains: tuple[Gain, ...]
    sheddings: tuple[Shedding, ...]
    elsewhere: Mapping[str, Endurance]
    """The same with the cruise and approach flown in another selector position that the battery feeds."""
    loadings: tuple[Loading, ...]

    @property
    def next_test(self) -> date:
        """The day by which the battery's capacity wants to be tested again."""
        return next_test(self.airplane.battery, self.conditions.on)

    @property
    def recovery_minutes(self) -> float:
        """Minutes of rest after the reserve's load before a voltage means anything."""
        state = planned_state(self.airplane.battery)
        amps = next(use.amps for use in self.plain.phases if use.phase is Phase.CRUISE)
        return recovery_minutes(self.airplane.battery, state.charge, self.conditions.celsius, amps)

    @property
    def health(self) -> Health:
        """What the last capacity test, faded to this day, means."""
        return health_of(percent_now(self.airplane.battery, self.conditions.on))


def endurance_report(
    airplane: Airplane,
    conditions: Conditions,
    plan: EndurancePlan,
    target_minutes: tuple[float, ...] = TARGETS,
) -> EnduranceReport:
    """Reckon all of it."""
    return EnduranceReport(
        airplane=airplane,
        conditions=conditions,
        plan=plan,
        plain=endurance(airplane, conditions, plan),
        stamina=stamina(airplane, conditions, plan),
        spread=stamina_spread(airplane, conditions, plan),
        helped=_helped(airplane, conditions, plan),
        drain=parked_drain(airplane, conditions),
        gains=gains(airplane, conditions, plan),
        sheddings=tuple(shedding_for(airplane, conditions, plan, minutes) for minutes in target_minutes),
        elsewhere=_elsewhere(airplane, conditions, plan),
        loadings=loadings(airplane),
    )


def _helped(airplane: Airplane, conditions: Conditions, plan: EndurancePlan) -> Mapping[str, Stamina]:
    generators = [source.name for source in airplane.sources.values() if isinstance(source, Generator)]
    return {name: stamina(airplane, conditions, plan, alive=frozenset({name})) for name in generators}


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
        "Minutes by volts end with the first load that must be kept, or with the battery's end volts.",
        "What to shed and other positions are reckoned by ampere-minutes.",
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
        "by_volts": _by_volts(report.stamina),
        "with_a_generator": {name: _by_volts(each) for name, each in report.helped.items()},
        "parked": {
            "amps": round(report.drain.amps, 3),
            "days": None if isinf(report.drain.days) else round(report.drain.days, 1),
        },
        "next_capacity_test": report.next_test.isoformat(),
        "rest_minutes_before_volts_mean_anything": round(report.recovery_minutes, 1),
        "reaches_required": report.stamina.is_enough,
        "low_minutes": round(spread.low, 1),
        "median_minutes": round(spread.median, 1),
        "high_minutes": round(spread.high, 1),
        "share_reaching_required": round(spread.enough_share, 4),
        "samples": spread.samples,
        "seed": spread.seed,
        "gains": [
            {"load": each.load, "minutes": round(each.minutes, 1), "keep": each.keep} for each in report.gains
        ],
        "shedding": [_shedding(each) for each in report.sheddings],
        "other_positions_minutes": {
            position: round(each.total_minutes, 1) for position, each in report.elsewhere.items()
        },
        "generators": [_loading(each) for each in report.loadings],
        "assumptions": list(assumptions(report)),
    }


def _by_volts(found: Stamina) -> Mapping[str, object]:
    return {
        "minutes": round(found.minutes, 1),
        "goes_on": found.goes_on,
        "phases": {phase: round(minutes, 1) for phase, minutes in found.phase_minutes.items()},
        "lost": [
            {"minute": round(each.minute, 1), "name": each.name, "cause": each.cause, "kept": each.is_kept}
            for each in found.rundown.lapses
        ],
        "course": [
            {
                "minute": round(each.minute, 2),
                "phase": each.phase,
                "volts": {bus: round(volts, 2) for bus, volts in each.volts.items() if volts},
                "charge": {name: round(state.charge, 4) for name, state in each.states.items()},
                "celsius": {name: round(state.celsius, 1) for name, state in each.states.items()},
            }
            for each in found.rundown.instants[:: max(1, len(found.rundown.instants) // 60)]
        ],
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
