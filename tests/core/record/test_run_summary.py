from runner.core.record.run_summary import summarise
from runner.language.catalogue import Word
from tests.core.sample import Run, begun, completed, powered


def test_a_clean_run_has_nothing_to_report() -> None:
    """All answers, both spin-ups with their seconds, no discrepancy."""
    summary = summarise(completed().machine.progress)
    assert (summary.is_complete, summary.is_ended) == (True, True)
    assert [clock.seconds for clock in summary.clocks] == [10.0, 12.5]
    assert (summary.squawks, summary.cautions, summary.unable, summary.unanswered) == ((), (), (), ())
    assert summary.left_out == ("horn",)
    assert summary.started_at == 1000.0
    assert summary.ended_at is not None
    assert summary.ampere_hours > 0


def test_discrepancies_are_counted_in_the_order_of_finding() -> None:
    """Named ones, values and late gyros alike."""
    run = (
        powered()
        .tick(70)
        .pulled("left flag")
        .read("31")
        .say(Word.AFFIRM)
        .pick("lamps", "dim")
        .pick("radio", "alive")
    )
    summary = summarise(run.machine.progress)
    assert [record.item for record in summary.squawks] == ["left flag", "volts", "radio"]
    assert [record.item for record in summary.cautions] == ["lamps"]
    assert summary.unanswered == ("right flag", "normal", "call")
    assert not summary.is_ended


def test_interruptions_and_corrections_are_counted() -> None:
    """For the record of how the check went."""
    run = begun().pick("fit", "new").say(Word.CORRECTION).pick("fit", "new").say(Word.STANDBY).restart()
    summary = summarise(run.machine.progress)
    assert (summary.corrections, summary.holds, summary.interruptions) == (1, 1, 1)


def test_hasty_answers_are_listed() -> None:
    """Faster than a person can look (NTSB/AAR-89/04)."""
    run = powered().play().read("24.6", after=0.4).play().pick("lamps", "both", after=1.4)
    assert [answer.item for answer in summarise(run.machine.progress).hasty] == ["volts"]


def test_the_battery_of_an_open_run_is_counted_to_the_present() -> None:
    """36 A for 100 s are one ampere-hour; without a present it is counted to the last move."""
    run = powered()
    assert summarise(run.machine.progress, run.at + 99.5).ampere_hours == 1.0
    assert summarise(run.machine.progress).ampere_hours == 0.0
    assert summarise(Run().machine.progress).ampere_hours == 0.0


def test_an_abandoned_run_is_ended_and_not_complete() -> None:
    """What was not asked is listed as unanswered."""
    summary = summarise(begun().say(Word.ABANDON).say(Word.AFFIRM).machine.progress)
    assert (summary.is_complete, summary.is_ended) == (False, True)
    assert "volts" in summary.unanswered
