"""14 CFR 91.205(d), instrument flight rules: each row of the rule with its paragraph.

Text: Federal Aviation Administration, 14 CFR 91.205 (2014 edition, vol. 2, pp. 742-743); (d)(1) takes in (b).
"""

from dataclasses import dataclass

from runner.airplane.model.instrument import Sense


@dataclass(frozen=True, slots=True)
class RuleRow:
    """One thing that the rule asks for."""

    paragraph: str
    wants: str
    senses: tuple[Sense, ...]
    """All of them are needed; empty for the generator, which is no instrument."""


ROWS = (
    RuleRow("91.205(b)(1)", "airspeed indicator", (Sense.AIRSPEED,)),
    RuleRow("91.205(b)(3)", "magnetic direction indicator", (Sense.COMPASS,)),
    RuleRow("91.205(d)(2)", "two-way radio", (Sense.COMMUNICATION,)),
    RuleRow("91.205(d)(2)", "navigation equipment", (Sense.NAVIGATION,)),
    RuleRow("91.205(d)(3)", "gyroscopic rate-of-turn indicator", (Sense.TURN,)),
    RuleRow("91.205(d)(4)", "slip-skid indicator", (Sense.SLIP,)),
    RuleRow("91.205(d)(5)", "sensitive altimeter", (Sense.ALTITUDE,)),
    RuleRow("91.205(d)(6)", "clock, hours minutes seconds", (Sense.TIME,)),
    RuleRow("91.205(d)(7)", "generator or alternator", ()),
    RuleRow("91.205(d)(8)", "gyroscopic pitch and bank indicator", (Sense.ATTITUDE,)),
    RuleRow("91.205(d)(9)", "gyroscopic direction indicator", (Sense.DIRECTION,)),
)
