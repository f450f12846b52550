"""Whether a spin-up's gyro exists, is powered by the item that starts its clock, and has its own times."""

from collections.abc import Iterator

from runner.checklist.format.check import SpinUp
from runner.checklist.lint.claim import Step
from runner.checklist.lint.finding import Finding
from runner.checklist.lint.scene import Scene
from runner.document import nearest


def judge_clock(scene: Scene, step: Step, way: tuple[Step, ...]) -> Iterator[Finding]:
    """Findings for a clock; none for other items."""
    body = step.item.body
    if not isinstance(body, SpinUp):
        return
    gyros = scene.airplane.gyros
    if body.gyro not in gyros:
        yield scene.error(
            step.item, f'the airplane has no gyro "{body.gyro}"; {nearest(body.gyro, gyros, "it has")}'
        )
        return
    yield from _power(scene, step, body, way)
    yield from _times(scene, step, body)


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
