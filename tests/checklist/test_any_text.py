from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from runner.checklist.format.check import Check
from runner.checklist.format.check_load import parse_check
from runner.errors import FileError

PATH = Path("x.yaml")
LINES = (Path(__file__).parent / "good.yaml").read_text(encoding="utf-8").split("\n")
SCRAPS = (
    "",
    "[]",
    "{}",
    "- ",
    ": ",
    "~",
    "&a",
    "*a",
    "'",
    '"',
    "true",
    "0",
    "-1",
    "a to b",
    "? x",
    "<<: *a",
    "\t",
    "§",
    "|",
)


def told(text: str) -> bool:
    """Whether the text is a check, or is refused at a place inside it and with advice."""
    try:
        return isinstance(parse_check(text, PATH), Check)
    except FileError as error:
        lines = text.split("\n")
        return 1 <= error.place.line <= len(lines) + 1 and error.place.column >= 1 and len(error.message) > 10


@settings(max_examples=300)
@given(st.text(st.characters(codec="utf-8"), max_size=200))
def test_any_text_is_read_or_refused(text: str) -> None:
    """Whatever is in the file, its author gets a place and a message, never a traceback."""
    assert told(text)


@settings(max_examples=500)
@given(st.data())
def test_a_check_with_slips_is_read_or_refused(data: st.DataObject) -> None:
    """Lines dropped, doubled, moved, cut or patched, as slips of an editor do."""
    lines = list(LINES)
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(lines) - 1))
        slip = data.draw(st.sampled_from(("drop", "double", "swap", "cut", "patch", "indent")))
        line = lines[at]
        if slip == "drop":
            del lines[at]
        elif slip == "double":
            lines.insert(at, line)
        elif slip == "swap":
            other = data.draw(st.integers(0, len(lines) - 1))
            lines[at], lines[other] = lines[other], lines[at]
        elif slip == "cut":
            lines[at] = line[: data.draw(st.integers(0, len(line)))]
        elif slip == "patch":
            lines[at] = line.partition(":")[0] + ": " + data.draw(st.sampled_from(SCRAPS))
        else:
            lines[at] = " " * data.draw(st.integers(0, 12)) + line.strip()
        if not lines:
            break
    assert told("\n".join(lines))
