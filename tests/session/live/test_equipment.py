"""What a run does with devices that are not there; on a machine without PortAudio as well."""

from pathlib import Path

from runner.core.event import Event
from runner.session.live.equipment import Ends, EquipmentChoice, open_equipment
from runner.session.parts import load_parts
from runner.voice.card.audio_clock import start_clock
from runner.voice.listen.endpoint import Patience
from runner.voice.port import Samples

NOWHERE = "a device that nobody has"


def _ignore(_event: Event) -> None:
    """Nothing is heard here."""


def _keep(_samples: Samples) -> str:
    return ""


def test_a_run_without_devices_is_answered_by_keys(tmp_path: Path) -> None:
    """Each missing part is told of, and none of them is used afterwards."""
    wanted = EquipmentChoice(
        engine="builtin",
        microphone=NOWHERE,
        loudspeaker=NOWHERE,
        voice="",
        rate=140,
        patience=Patience.NORMAL,
        has_emphasis=False,
        has_headset=False,
        prompts=tmp_path,
    )
    equipment = open_equipment(wanted, load_parts("merlow-reserve"), start_clock(), Ends(_ignore, _keep))
    try:
        assert equipment.notices
        assert (equipment.speech, equipment.hearing) == (None, None)
    finally:
        equipment.close()
