"""The recipes of DEVELOPERS.md followed to the letter in a copy of the tree, and a run with what is new."""

from pathlib import Path

import pytest

from tests.recipe_copy import Copy

CHECK = """
check: Short check
cautions: [For use on the ground only. The flight manual and the pilot in command decide.]
sections:
  - section: All
    items:
      - item: lamp
        challenge: Lamp
        why: A dark lamp warns of nothing.
        state: {lit: pass, dark: squawk}
      - item: gauge
        challenge: Gauge
        why: It tells how much there is.
        reading: {unit: UNIT, resolution: 1, pass: 20 to 40}
      - item: complete
        challenge: Your call
        call: check complete
"""


@pytest.fixture
def copy(tmp_path: Path) -> Copy:
    """A tree of one's own."""
    return Copy.into(tmp_path)


WORD_ROW = """\
    ONCE_MORE = "once more", "O", Origin.OURS, "says it again", Saying("and again", Origin.OURS)
"""
WORD_CELLS = """\
    Word.ONCE_MORE: heard(([ASKING, CONFIRMING], to(word.say_again, SAME))),
"""
WORD_SAID = """
from runner.core.grid.table import WORDS_IN_FORCE
from runner.checklist.kind.item_phrases import phrases_of
from runner.language.force import understand

print(done("run", "check.yaml", "--keys", "--plain", "--by", "Ada"))
assert understand("And again", phrases_of()).word.effect == "says it again"
assert [str(state) for state in WORDS_IN_FORCE if "once more" in WORDS_IN_FORCE[state]] == [
    "asking",
    "confirming",
]
print(done("verify"), done("show", "last"), done("report", "last", "--to", "run.html"))
"""


def test_a_standard_word_is_a_row_of_the_catalogue_and_a_row_of_the_grid(copy: Copy) -> None:
    """Heard where its row says so, keyed, told in the help: it does its work and answers nothing."""
    copy.add("runner/language/catalogue.py", '    ROGER = "roger"', WORD_ROW)
    copy.add("runner/core/grid/table.py", "    Word.ROGER: ", WORD_CELLS)
    copy.assert_follows("a standard word", most=2)
    typed = "c\nonce more\nO\nlit\n12\nO\naffirm\ncheck complete\n"
    printed = copy.run(WORD_SAID, typed, check=CHECK.replace("UNIT", "volts"))
    assert printed.splitlines().count('said "Lamp."') == 3
    assert "O once more" in printed
    assert "1 squawk" in printed
    assert "whole" in printed


UNIT_ROW = """\
    QUARTS = "quarts", "quart", 0, 50
"""
UNIT_SAID = """
from decimal import Decimal
from pathlib import Path

from jsonschema import Draft202012Validator
import json, yaml

from runner.language.number import readback, spoken_forms
from runner.language.catalogue import Unit
from runner.place import data_folder

quarts, step = Unit("quarts"), Decimal(1)
assert readback(Decimal(1), quarts, step) == "one quart"
assert "quarts twenty four" in spoken_forms(Decimal(24), quarts, step)
schema = json.loads((data_folder("checklists") / "schema" / "check.schema.json").read_text())
assert schema["$defs"]["reading"]["properties"]["unit"]["enum"] == list(Unit)
Draft202012Validator(schema).validate(yaml.safe_load(Path("check.yaml").read_text()))
print(done("run", "check.yaml", "--keys", "--plain", "--by", "Ada"))
print(done("verify"), done("show", "last"), done("report", "last", "--to", "run.html"))
print(Path("run.html").read_text())
"""


def test_a_unit_is_a_row_of_the_catalogue_and_a_name_in_the_schema(copy: Copy) -> None:
    """A check with it is valid and loads; its values are said, typed, judged, recorded and reported."""
    copy.add("runner/language/catalogue.py", '    VOLTS = "volts"', UNIT_ROW)
    units = '        "unit": { "enum": ['
    copy.put_behind("checklists/schema/check.schema.json", units, '"quarts", ')
    copy.assert_follows("a unit", most=2)
    typed = "c\nlit\n51\n50\naffirm\ncheck complete\n"
    printed = copy.run(UNIT_SAID, typed, check=CHECK.replace("UNIT", "quarts"))
    assert "51 cannot be; 0 to 50 quarts can be entered" in printed
    assert 'said "Five zero quarts is a squawk. Affirm or negative."' in printed
    assert "50 quarts" in printed.partition("<html")[2]
    assert "whole" in printed


DOOR = '''\
@dataclass(frozen=True, slots=True)
class DoorOpened:
    """Somebody opened the door."""

    at: float


'''
DOOR_ROW = """\
DOOR_OPENED: Final = EventRow(
    (DoorOpened,), in_states((State, IGNORED), (TALKING, to(world_event.open_door, SAME)))
)
"""
TELL = '''\
def open_door(_moment: Moment, _event: DoorOpened) -> Reply:
    """Tell."""
    return Reply(preface="The door is open")


'''
DOOR_RUN = """
from pathlib import Path

from runner.core.effect import Append
from runner.core.event import Answered, Channel, DoorOpened, Started
from runner.core.grid.drawing import render_table
from runner.core.grid.machine import Machine
from runner.core.record.fold import fold
from runner.language.meaning import Command
from runner.language.catalogue import Word
from runner.logbook.record.run_store import Logbook
from runner.screen.build import build_view
from runner.screen.plain.plain_view import plain_lines
from runner.screen.view import SoundView
from runner.session.beginning import begin_run
from runner.session.parts import load_parts

parts, at = load_parts("check.yaml"), 1_700_000_000.0
machine = Machine(parts.plan)


def say(word):
    return Answered(at, machine.turn, Command(word), word.value, 1.0, at, Channel.KEYS)


with Logbook.open(Path("logbook")) as logbook:
    with begin_run(logbook, parts, pilot="Ada", started_at=at, engine=None) as run:

        def happen(event):
            recorded = [each.entry for each in machine.handle(event)[1] if isinstance(each, Append)]
            for entry in recorded:
                run.append(entry)
            return recorded

        happen(Started(at))
        happen(say(Word.CONTINUE))
        told = happen(DoorOpened(at + 3))
        view = build_view(machine, at, airplane="", registration="none", sound=SoundView(engine="keys"))
        assert 'said "The door is open. Lamp."' in plain_lines(view), plain_lines(view)
        happen(say(Word.STANDBY))
        assert machine.handle(DoorOpened(at + 9))[1] == (), "a hold is told of no door"
    entries = logbook.entries(run.run)
    assert fold(parts.plan, entries) == machine.progress
print(render_table(), done("verify"), done("show", "last"), done("report", "last", "--to", "run.html"))
print(Path("run.html").read_text())
"""


def open_door(copy: Copy, act: str) -> None:
    """The event, its row, and what is done about it."""
    event = "from runner.core.event import DoorOpened"
    copy.add("runner/core/event.py", "Event = (", DOOR)
    copy.add("runner/core/event.py", "    | Answered", "    | DoorOpened\n")
    copy.import_into("runner/core/grid/world_event.py", event)
    copy.add("runner/core/grid/world_event.py", "def tick(", act)
    copy.import_into("runner/core/grid/table.py", event)
    copy.add("runner/core/grid/table.py", "NOTE_ENDED: Final", DOOR_ROW)
    copy.add("runner/core/grid/table.py", "        *(INPUT_CHANGED,", "        DOOR_OPENED,\n")


def test_an_event_is_a_class_a_row_and_what_is_done(copy: Copy) -> None:
    """The machine takes it in every state: it is told where the check goes on, drawn, and on no record."""
    open_door(copy, TELL)
    copy.assert_follows("an event", most=3)
    printed = copy.run(DOOR_RUN + "\nassert told == []\n", check=CHECK.replace("UNIT", "volts"))
    assert "| DoorOpened " in printed
    assert "whole" in printed


SEEN = '''\
@dataclass(frozen=True, slots=True)
class DoorSeen:
    """A door stood open."""

    at: float
    side: str


'''
SEEN_FOLD = """\
    DoorSeen: lambda progress, _: replace(progress, holds=progress.holds + 10),
"""
SEEN_WORDS = """\
        case DoorSeen():
            words = [f"the {entry.side} door stood open"]
"""
RECORD = TELL.replace(
    'Reply(preface="The door is open")', 'Reply((DoorSeen(_event.at, "left"),), "The door is open")'
)
SEEN_READ = """
assert [entry.side for entry in told] == ["left"]
assert told[0] in entries
assert machine.progress.holds == 11
"""


def test_an_entry_is_a_class_a_fold_and_its_words(copy: Copy) -> None:
    """It goes on record, is folded, read back as it was, verified, listed and reported."""
    entry = "from runner.core.record.entry import DoorSeen"
    copy.add("runner/core/record/entry.py", "Entry = (", SEEN)
    copy.add("runner/core/record/entry.py", "    | CautionsTaken", "    | DoorSeen\n")
    copy.import_into("runner/core/record/fold.py", entry)
    copy.add("runner/core/record/fold.py", "    CautionsTaken: ", SEEN_FOLD)
    copy.import_into("runner/logbook/list/entry_wording.py", entry)
    copy.add("runner/logbook/list/entry_wording.py", "        case BatteryWarned():", SEEN_WORDS)
    copy.import_into("runner/report/run/run_incident.py", entry)
    copy.add("runner/report/run/run_incident.py", '    Held: "held', '    DoorSeen: "a door was open",\n')
    copy.assert_follows("an entry", most=4)
    open_door(copy, f"{entry}\n\n\n{RECORD}")
    printed = copy.run(DOOR_RUN + SEEN_READ, check=CHECK.replace("UNIT", "volts"))
    assert "the left door stood open" in printed
    assert "a door was open" in printed
    assert "whole" in printed
