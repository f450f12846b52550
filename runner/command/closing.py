"""What is printed of a run at its end: stops, squawks with their neighbours, cautions, spin-ups, battery."""

from runner.core.record.danger_stop import Stop
from runner.core.record.entry import AnswerRecorded, ClockEnded, StopSquawked
from runner.core.record.given_answer import answer_in
from runner.core.record.run_summary import Summary
from runner.report.run.shared_feed import shared_feeds
from runner.report.run.suspects import diagnosis_of, suspect_line
from runner.session.parts import Parts


def finding_lines(parts: Parts, summary: Summary) -> list[str]:
    """Lines for a terminal; the first words name what kind of line each is."""
    lines = [f"  stop     {stop.item}: {stop.what}, {_became(stop)}" for stop in summary.stops]
    for squawk in summary.squawks:
        lines.append(f"  squawk   {squawk.item}: {value_of(squawk)}")
        lines += [f"           {line}" for line in shared_feeds(parts.check, parts.airplane, squawk.item)]
    lines += _suspects(parts, summary)
    lines += [f"  caution  {caution.item}: {value_of(caution)}" for caution in summary.cautions]
    lines += [f"  not done {item}" for item in summary.unable]
    lines += [f"  spin-up  {clock.item}: {clock.seconds:.1f} s" for clock in summary.clocks]
    if parts.airplane is None:
        return lines
    usable = parts.plan.usable_ampere_hours
    lines.append(f"  battery  {summary.ampere_hours:.2f} Ah used of {usable:.1f} Ah usable")
    return lines


def _suspects(parts: Parts, summary: Summary) -> list[str]:
    """One line under the squawks: what single failure explains them, and where to look next."""
    if not summary.squawks or parts.airplane is None:
        return []
    given = {answer.item: found for answer in summary.answers if (found := answer_in(answer)) is not None}
    given |= {clock.item: found for clock in summary.clocks if (found := answer_in(clock)) is not None}
    diagnosis = diagnosis_of(parts.check, parts.airplane, given)
    return [f"           {suspect_line(diagnosis)}"] if diagnosis.suspects else []


def _became(stop: Stop) -> str:
    if stop.remedied_at is None:
        return "NOT REMEDIED"
    return f"remedied after {stop.remedied_at - stop.at:.0f} s"


def value_of(answer: AnswerRecorded | ClockEnded | StopSquawked) -> str:
    """The answer, the number with its unit, or the clock's seconds."""
    if isinstance(answer, ClockEnded):
        return f"{answer.seconds:.1f} s" if answer.is_pulled else f"stuck after {answer.seconds:.1f} s"
    return f"{answer.answer} {answer.unit}".strip()
