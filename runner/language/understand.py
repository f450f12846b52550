"""From what was heard to what it means: exact phrases in force, nothing else."""

from runner.language.force import InForce
from runner.language.meaning import Meaning
from runner.language.spelling import normalise


def understand(text: str, in_force: InForce) -> Meaning | None:
    """The meaning of the text among the phrases in force; None when it is none of them, word for word."""
    return in_force.meanings.get(normalise(text))
