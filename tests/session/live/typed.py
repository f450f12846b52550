"""What a test's pilot types, as what it means to the machine."""

from decimal import Decimal, InvalidOperation

from runner.core.ask.outlook import outlook_of
from runner.core.record.progress import Progress
from runner.language.force import understand
from runner.language.meaning import Meaning, Value


def meaning_of(progress: Progress, typed: str) -> Meaning | None:
    """What a key, a label, a number or a phrase means now; None when it means nothing here."""
    text = typed.strip().casefold()
    outlook = outlook_of(progress)
    possible = [*outlook.answers, *(answer for clock in outlook.clocks for answer in clock.answers)]
    for answer in possible:
        if text and text in (answer.response.key.casefold(), answer.response.label.casefold()):
            return answer.meaning
    if outlook.gauge is not None and outlook.item is not None:
        number = _number(text)
        if number is not None and number in outlook.gauge.plausible:
            return Value(outlook.item.name, number)
    return understand(text, outlook.in_force)


def _number(text: str) -> Decimal | None:
    try:
        number = Decimal(text)
    except InvalidOperation:
        return None
    return number if number.is_finite() else None
