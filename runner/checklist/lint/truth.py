"""Whether what an item says of its airplane is so: what lives, switches, the voltmeter, clocks."""

from collections.abc import Iterator

from runner.airplane.life.lively import Life
from runner.airplane.life.neighbour import loads_behind
from runner.airplane.model.airplane import Airplane
from runner.checklist.kind.dead import NOTHING
from runner.checklist.kind.spin_up import SpinUp
from runner.checklist.lint.claim import Claim, Step, claims, loads_of
from runner.checklist.lint.finding import Finding
from runner.checklist.lint.scene import Scene
from runner.document import nearest


def judge_claims(scene: Scene, step: Step) -> Iterator[Finding]:
    """A finding for each claim that the airplane contradicts, or whose name it does not know."""
    lives = scene.lives(step.after)
    for claim in claims(step, scene.airplane):
        if claim.name not in lives:
            advice = nearest(claim.name, lives, "it has")
            message = f'the airplane has no load, instrument or part "{claim.name}"; {advice}'
            yield scene.error(step.item, message)
        elif lives[claim.name] is not claim.life:
            yield scene.error(step.item, _contradiction(scene, claim, lives[claim.name]))


def _contradiction(scene: Scene, claim: Claim, life: Life) -> str:
    position = claim.step.after
    called = f'"{claim.name}" is called {claim.life} in "{position}"'
    if life is Life.PARTIAL:
        return f'{called}, but only part of it lives there; name its parts, or write a "partial" item'
    if life is Life.DEAD:
        return (
            f"{called}, but the airplane keeps it dead ({_break(scene, claim.name, position)}); {_cure(life)}"
        )
    return (
        f"{called}, but the airplane keeps it alive ({_source(scene, claim.name, position)}); {_cure(life)}"
    )


def _cure(life: Life) -> str:
    mend = 'write a "dead" item for it' if life is Life.DEAD else "ask for it as alive"
    return f"{mend}, or correct the airplane file"


def _break(scene: Scene, name: str, position: str) -> str:
    """The path of the first load behind the name that is dead."""
    alive = scene.picture(position).solution.alive
    dead = sorted(loads_behind(scene.airplane, name) - alive)
    return scene.path(dead[0], position) if dead else "nothing drives it"


def _source(scene: Scene, name: str, position: str) -> str:
    """The path of a load, or the power of an instrument's part."""
    if name in scene.airplane.loads:
        return scene.path(name, position)
    view = scene.picture(position)
    powers = [
        view.power_of(drive)
        for instrument in scene.airplane.instruments.values()
        for part in instrument.parts
        if name in (instrument.name, instrument.part_name(part))
        and (drive := view.drive_of(part)) is not None
    ]
    return "by " + ", ".join(dict.fromkeys(powers))


def judge_switches(scene: Scene, step: Step) -> Iterator[Finding]:
    """Findings for a dead item whose `on` is not what the airplane file says; none for other items."""
    named = step.item.body.switches
    if named is None:
        return
    _, loads = step.item.body.shows(())
    needed = switches_of(scene.airplane, loads)
    for load, switch in needed.items():
        if switch not in named:
            found = ", ".join(named) or NOTHING
            message = (
                f'"{load}" has a switch of its own in the airplane file, and off it is dead anyway; '
                f'write "on: {switch}" instead of "on: {found}", and move it'
            )
            yield scene.error(step.item, message)
    for switch in named:
        if not needed:
            message = (
                f"the airplane file knows no switch of {', '.join(loads)}; "
                f'write "switch: {switch}" there, or "on: {NOTHING}" here'
            )
            yield scene.warning(step.item, message)


def switches_of(airplane: Airplane, names: tuple[str, ...]) -> dict[str, str]:
    """The switch of each load behind the names that has one; a name that the airplane lacks has none."""
    loads = (load for name in names for load in sorted(loads_of(airplane, name)))
    return {load: switch for load in loads if (switch := airplane.loads[load].switch) is not None}


def judge_reading(scene: Scene, step: Step) -> Iterator[Finding]:
    """Findings for a reading of the voltmeter; none for other items."""
    number, meter = step.item.body.number, scene.airplane.voltmeter
    if number is None or meter.name not in step.item.proves:
        return
    if number.resolution != meter.resolution:
        message = f"the {meter.name} shows steps of {meter.resolution}; write that as resolution"
        yield scene.warning(step.item, message)
    is_parked = step.after == scene.airplane.selector.parked
    low, high = (meter.at_rest if is_parked else meter.on_reserve).caution
    if number.pass_band.low < low or number.pass_band.high > high:
        message = (
            f"pass band {number.pass_band} reaches into what the airplane file "
            f'calls a squawk in "{step.after}"; keep it within {low} to {high}'
        )
        yield scene.warning(step.item, message)


def judge_clock(scene: Scene, step: Step, way: tuple[Step, ...]) -> Iterator[Finding]:
    """Findings for a clock; none for other items."""
    clock = step.item.body.clock
    if clock is None:
        return
    gyros = scene.airplane.gyros
    if clock.gyro not in gyros:
        yield scene.error(
            step.item, f'the airplane has no gyro "{clock.gyro}"; {nearest(clock.gyro, gyros, "it has")}'
        )
        return
    yield from _power(scene, step, clock, way)
    yield from _times(scene, step, clock)


def _power(scene: Scene, step: Step, clock: SpinUp, way: tuple[Step, ...]) -> Iterator[Finding]:
    start = next(each for each in way if each.item.name == clock.starts_on)
    load = scene.airplane.gyros[clock.gyro].load
    if load not in scene.picture(start.after).solution.alive:
        message = (
            f'times "{clock.gyro}", which "{clock.starts_on}" leaves without power '
            f"({scene.path(load, start.after)}); start it on the item that powers it"
        )
        yield scene.error(step.item, message)
    elif load in scene.picture(start.before).solution.alive:
        message = (
            f'times "{clock.gyro}" from "{clock.starts_on}", but it has power before that '
            f"({scene.path(load, start.before)}); start it on the item that powers it"
        )
        yield scene.error(step.item, message)


def _times(scene: Scene, step: Step, clock: SpinUp) -> Iterator[Finding]:
    gyro = scene.airplane.gyros[clock.gyro]
    for name, here, there in (
        ("advise", clock.advise_seconds, gyro.advise_seconds),
        ("limit", clock.limit_seconds, gyro.limit_seconds),
    ):
        if here > there:
            message = (
                f'{name} at {here:g} s is later than the airplane file has it; write "{name}: {there:g} s"'
            )
            yield scene.warning(step.item, message)
