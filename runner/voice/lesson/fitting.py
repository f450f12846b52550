"""Which ear and which threshold fit one person, from twenty phrases: far too few to start from nothing.

The threshold. The shipped one states a price: taking at confidence t says that a wrong answer costs
t / (1 - t) times what asking again costs. That price stays. What may differ from person to person is how
sure the ear's confidence comes out, so one number is fitted: an offset b of the log-odds, the logistic
regression of "the guess was right" with the ear's own log-odds given (Platt 1999, slope fixed at 1),
under a normal prior of mean 0 and spread OFFSET_SPREAD. The confidence p of this person then means
log-odds(p) + b, and the same price lies at log-odds(t) - b on the ear's own scale. Then, in this order:

1. A wrong guess at or above the shipped threshold raises it: to the fitted place, and by at least MARGIN in
   log-odds, but to no more than CEILING. It need not clear that very guess. Measured on real digits of two
   speakers in engine noise at 10 dB, each judged on what the lesson left out: clearing it took 15 and 6 of
   100 right answers away and brought unknown words taken from 11 of 100 to 9.5 and 10; this rule takes 2 and
   0.4 away and brings them to 10 and 10.5.
2. Otherwise it is lowered only for answers that were right and refused, and no further than the least sure
   of those that stays at or above each of: the fitted place, MARGIN above the surest wrong guess, FLOOR.
3. Otherwise it stays. Being heard well lowers nothing.

The limits. Twenty phrases show how often a person is asked again, to within a factor of three or so. They
cannot show that wrong answers are rare: none in twenty fits one in six. OFFSET_SPREAD, MARGIN and the ends
are judgements. Where the shipped threshold is 0 (Vosk: its confidence is no probability) there is no price
to keep: it rises to MARGIN above the surest wrong guess, and never falls. An ear that hears everything
wrong is not mended by any of this.
"""

import math
from collections.abc import Mapping, Sequence
from typing import Final

from runner.voice.lesson.share import get_sign_chance
from runner.voice.lesson.trial import Trial, count

FLOOR: Final = 0.5
"""Below this the ear itself thinks that its guess is rather wrong than right."""
CEILING: Final = 0.99
MARGIN: Final = 0.5
"""Log-odds that a wrong guess asks for: a factor of 1.6 in the odds."""
OFFSET_SPREAD: Final = 1.0
"""Log-odds by which people differ from those that the ear was calibrated on."""
DOUBT: Final = 0.05
"""Chance of a difference between ears by luck alone, above which the first ear stays."""

_END: Final = 1e-4
"""Confidences nearer to 0 or 1 than this say no more than this."""
_STEPS: Final = 60
"""Of bisection: more than a float can tell apart."""


def choose_threshold(shipped: float, trials: Sequence[Trial]) -> float:
    """The confidence below which this person's phrases are refused, see above; all values from 0 to 1."""
    wrong = max((trial.confidence for trial in trials if _is_wrong(trial)), default=0.0)
    offset = fit_offset(trials) if shipped else 0.0
    fitted = _log_odds(shipped) - offset
    clear_of_wrong = _log_odds(wrong) + MARGIN
    if wrong and wrong >= shipped:
        raised = max(fitted, _log_odds(shipped) + MARGIN) if shipped else clear_of_wrong
        return max(shipped, min(CEILING, _chance(raised)))
    least = max(fitted, clear_of_wrong, _log_odds(FLOOR))
    asking = [trial.confidence for trial in trials if trial.is_right and trial.confidence < shipped]
    return min((each for each in asking if _log_odds(each) >= least), default=shipped)


def fit_offset(trials: Sequence[Trial]) -> float:
    """The offset b of the log-odds that fits the trials best under its prior, see above."""
    guessed = [(_log_odds(each.confidence), each.is_right) for each in trials if each.guess is not None]

    def slope(offset: float) -> float:
        surplus = sum(is_right - _chance(odds + offset) for odds, is_right in guessed)
        return surplus - offset / OFFSET_SPREAD**2

    low, high = -len(guessed) * OFFSET_SPREAD**2, len(guessed) * OFFSET_SPREAD**2
    for _ in range(_STEPS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if slope(middle) > 0.0 else (low, middle)
    return (low + high) / 2.0


def choose_engine(heard: Mapping[str, Sequence[Trial]], thresholds: Mapping[str, float]) -> str:
    """The name of the ear to use; `heard` has each ear's trials of the same sayings, the usual ear first.

    `thresholds` (0 to 1) are the shipped ones: what was fitted to these trials must not judge by them.
    Another ear comes first only if it took no more wrong, and either took fewer wrong without clearly
    refusing more, or clearly took more that was right (exact sign test, below DOUBT).
    """
    names = iter(heard)
    best = next(names)
    for other in names:
        if _is_better((heard[other], thresholds[other]), (heard[best], thresholds[best])):
            best = other
    return best


def _is_better(other: tuple[Sequence[Trial], float], best: tuple[Sequence[Trial], float]) -> bool:
    wrong, least_wrong = count(*other).wrong, count(*best).wrong
    if wrong > least_wrong:
        return False
    pairs = list(zip(_taken_right(*other), _taken_right(*best), strict=True))
    gained = sum(one and not two for one, two in pairs)
    lost = sum(two and not one for one, two in pairs)
    if wrong < least_wrong:
        return get_sign_chance(lost, gained) > DOUBT
    return get_sign_chance(gained, lost) <= DOUBT


def _taken_right(trials: Sequence[Trial], threshold: float) -> list[bool]:
    return [trial.is_right and trial.is_taken(threshold) for trial in trials]


def _is_wrong(trial: Trial) -> bool:
    return trial.guess is not None and not trial.is_right


def _log_odds(chance: float) -> float:
    held = min(1.0 - _END, max(_END, chance))
    return math.log(held / (1.0 - held))


def _chance(log_odds: float) -> float:
    return 1.0 / (1.0 + math.exp(-log_odds))
