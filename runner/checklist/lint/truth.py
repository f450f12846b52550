"""Whether what an item calls alive or dead is so in its airplane."""

from collections.abc import Iterator

from runner.airplane.life.lively import Life
from runner.airplane.life.neighbour import loads_behind
from runner.checklist.lint.claim import Claim, Step, claims
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
