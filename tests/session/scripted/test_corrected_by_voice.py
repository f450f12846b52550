"""A correction and its answer in one breath, in engine noise, with the real ear and the real voice."""

from pathlib import Path

from runner.command.pilot import PilotRun, run_pilot
from runner.core.event import Answered
from runner.core.record.entry import AnswerRecorded, ConfirmationAsked
from runner.core.state import State
from runner.logbook.record.run_store import Logbook
from runner.session.engine import BUILTIN
from runner.session.scripted.scripted_run import Told

CHECK = """
check: Corrected by voice
cautions: [For use on the ground only. The flight manual and the pilot in command decide.]
sections:
  - section: All
    items:
      - {item: lamps, challenge: Panel lamps, state: {both lit: pass, left out: squawk}}
      - item: volts
        challenge: Battery volts
        reading: {unit: volts, resolution: 0.1, pass: 24.0 to 27.0, plausible: 18.0 to 32.0}
      - item: amps
        challenge: Battery amps
        reading: {unit: amps, resolution: 1, pass: 5 to 40, plausible: 0 to 90}
      - {item: chocks, challenge: Wheel chocks, state: {chocks are in: pass, none in: squawk}}
      - {item: complete, challenge: Corrected by voice, call: voice check complete}
"""
PILOT = """
check: {check}
voice: en-us+f3
noise: {{kind: engine, snr: 15}}
seed: 5
start: 2026-12-03T06:40:00Z
lines:
  - {{on: cautions, say: continue}}
  - {{on: lamps, say: both lit}}
  - {{on: volts, say: correction left out}}
  - {{on: volts, say: two four decimal six}}
  - {{on: amps, say: correction two four decimal one}}
  - {{on: amps, say: one four}}
  - {{on: chocks, say: correction one zero}}
  - {{on: chocks, say: correction nine zero amps}}
  - {{on: confirm, say: correction one zero amps}}
  - {{on: chocks, say: correction}}
  - {{on: amps, say: one two}}
  - {{on: chocks, say: chocks are in}}
  - {{on: complete, say: voice check complete}}
"""


def test_corrections_with_their_answers_are_heard_in_noise(tmp_path: Path) -> None:
    """Named answers and digits behind the word; the word alone still asks; a value out of its band waits."""
    check, script = tmp_path / "corrected.yaml", tmp_path / "pilot.yaml"
    check.write_text(CHECK, encoding="utf-8")
    script.write_text(PILOT.format(check=check), encoding="utf-8")
    told: list[Told] = []
    wanted = PilotRun("", script, tmp_path / "logbook", tmp_path / "exchange.wav", BUILTIN, "test")
    result = run_pilot(wanted, told.append)
    with Logbook.open(tmp_path / "logbook") as logbook:
        entries = logbook.entries(result.run)
    heard = [event.text for event in result.scripted.heard if isinstance(event, Answered)]
    assert heard == [line.text for line in told if line.who == "pilot"]
    answers = [(each.item, each.answer) for each in entries if isinstance(each, AnswerRecorded)]
    assert answers == [
        ("lamps", "both lit"),
        ("lamps", "left out"),
        ("volts", "24.6"),
        ("volts", "24.1"),
        ("amps", "14"),
        ("amps", "10"),
        ("amps", "10"),
        ("amps", "12"),
        ("chocks", "chocks are in"),
        ("complete", "voice check complete"),
    ]
    assert [each.number for each in entries if isinstance(each, ConfirmationAsked)] == [90]
    said = [line.text for line in told if line.who == "eyesout"]
    assert any("Battery volts. Two four decimal one volts." in text for text in said)
    assert result.scripted.state is State.COMPLETE
