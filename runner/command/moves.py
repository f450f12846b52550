"""What moved over an airplane's runs, in the one sentence that is spoken at the end of a run."""

from runner.errors import EyesoutError
from runner.logbook.record.record_shelf import Shelf
from runner.report.fleet.airplane_trend import trends_of
from runner.trend.verdict_wording import spoken


def moves_of(shelf: Shelf, registration: str) -> str:
    """The sentence, or nothing: too few runs, all steady, or records that cannot be read now."""
    try:
        return spoken(trends_of(shelf, registration).trends) or ""
    except EyesoutError:
        return ""  # the run itself is over and on record; `eyesout trend` tells what is wrong
