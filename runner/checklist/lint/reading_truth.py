"""Whether a reading of the airplane's voltmeter uses its resolution and stays within its bands."""

from collections.abc import Iterator

from runner.checklist.format.check import Reading
from runner.checklist.lint.claim import Step
from runner.checklist.lint.finding import Finding
from runner.checklist.lint.scene import Scene


def judge_reading(scene: Scene, step: Step) -> Iterator[Finding]:
    """Findings for a reading of the voltmeter; none for other items."""
    body, meter = step.item.body, scene.airplane.voltmeter
    if not isinstance(body, Reading) or meter.name not in step.item.proves:
        return
    if body.resolution != meter.resolution:
        message = f"the {meter.name} shows steps of {meter.resolution}; write that as resolution"
        yield scene.warning(step.item, message)
    is_parked = step.after == scene.airplane.selector.parked
    low, high = (meter.at_rest if is_parked else meter.on_reserve).caution
    if body.pass_band.low < low or body.pass_band.high > high:
        message = (
            f"pass band {body.pass_band.low} to {body.pass_band.high} reaches into what the airplane file "
            f'calls a squawk in "{step.after}"; keep it within {low} to {high}'
        )
        yield scene.warning(step.item, message)
