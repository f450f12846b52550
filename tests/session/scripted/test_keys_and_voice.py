"""Voice and keys at once, in engine noise, with the real ear and the real voice: each answer counts once."""

from pathlib import Path

from runner.command.pilot import PilotRun, run_pilot
from runner.core.event import Answered, Channel
from runner.core.record.entry import AnswerRecorded
from runner.core.state import State
from runner.logbook.record.run_store import Logbook
from runner.session.engine import BUILTIN
from runner.session.scripted.scripted_run import Told

CHECK = """
check: Hands and voice
cautions: [For use on the ground only. The flight manual and the pilot in command decide.]
sections:
  - section: All
    items:
      - {item: door, challenge: Cabin door, state: {door is closed: pass, door is open: squawk}}
      - {item: lamps, challenge: Panel lamps, state: {both lit: pass, left out: squawk}}
      - item: volts
        challenge: Battery volts
        reading: {unit: volts, resolution: 0.1, pass: 24.0 to 27.0, plausible: 20.0 to 30.0}
      - {item: chocks, challenge: Wheel chocks, state: {chocks are in: pass, none in: squawk}}
      - {item: complete, challenge: Hands and voice, call: hands check complete}
"""
PILOT = """
check: {check}
voice: en-us+f3
noise: {{kind: engine, snr: 15}}
seed: 5
start: 2026-12-03T06:40:00Z
lines:
  - {{on: cautions, key: continue}}
  - {{on: door, say: door is closed}}
  - {{on: lamps, key: left out, after: 0.8}}
  - {{on: volts, say: two four decimal six}}
  - {{on: chocks, key: correction, after: 0.8}}
  - {{on: volts, key: two five decimal one, after: 0.8}}
  - {{on: chocks, say: chocks are in}}
  - {{on: complete, key: hands check complete}}
"""


def test_keys_and_voice_serve_one_run_in_noise(tmp_path: Path) -> None:
    """What is keyed is recorded as keyed, what is said as said; a key takes back what the voice gave."""
    check, script = tmp_path / "hands.yaml", tmp_path / "pilot.yaml"
    check.write_text(CHECK, encoding="utf-8")
    script.write_text(PILOT.format(check=check), encoding="utf-8")
    told: list[Told] = []
    wanted = PilotRun("", script, tmp_path / "logbook", tmp_path / "exchange.wav", BUILTIN, "test")
    result = run_pilot(wanted, told.append)
    assert result.scripted.state is State.COMPLETE
    with Logbook.open(tmp_path / "logbook") as logbook:
        entries = logbook.entries(result.run)
    answers = [entry for entry in entries if isinstance(entry, AnswerRecorded)]
    assert [(one.item, one.answer, one.origin.reception.channel) for one in answers] == [
        ("door", "door is closed", "voice"),
        ("lamps", "left out", "keys"),
        ("volts", "24.6", "voice"),
        ("volts", "25.1", "keys"),
        ("chocks", "chocks are in", "voice"),
        ("complete", "hands check complete", "keys"),
    ]
    taken = [event for event in result.scripted.heard if isinstance(event, Answered)]
    assert [event.channel for event in taken].count(Channel.KEYS) == 5
    assert ("keyed", "left out") in [(line.who, line.text) for line in told]
    assert [line.text for line in told if line.who == "pilot"] == [
        "door is closed",
        "two four decimal six",
        "chocks are in",
    ]
