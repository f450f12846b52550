"""What the documents claim of whole packages, asked of their code."""

import ast
import re
import sys
from collections.abc import Iterator

from tests.ci_script import ci_script

HOUSE = ci_script("house")
SOURCES = HOUSE.sources()
MODULES = {path.relative_to(HOUSE.PACKAGE).as_posix(): source.tree for path, source in SOURCES.items()}

PURE = ("airplane", "checklist", "language", "core", "drill", "trend", "prove")
TOUCHES_A_FILE = {
    *(
        "read_text",
        "read_bytes",
        "write_text",
        "write_bytes",
        "open",
        "exists",
        "is_file",
        "is_dir",
        "iterdir",
    ),
    *("glob", "rglob", "mkdir", "unlink", "rename", "stat", "touch", "resolve", "cwd", "home"),
}
"""Methods of `pathlib.Path` that ask the computer; its names, parts and suffixes do not."""

# Libraries from outside, and where each is imported: one adapter each, but for those that are a language of
# their own (the arrays of numpy), that a whole screen is built of (textual), or that two callers share.
ADAPTERS = {
    "cryptography": {"logbook/proof/signature.py"},
    "espeakng_loader": {"voice/mouth/speaking_child.py"},
    "filelock": {"logbook/record/lock.py", "voice/model/model_shelf.py"},  # runs, and folders of models
    "fpdf": {"report/draw/paper.py"},
    "graphlay": {"report/bus/graph_layout.py"},
    "hibari": {"voice/mouth/heart_driver.py"},
    "fsrs": {"drill/due/forgetting.py"},
    "jinja2": {"report/draw/page_frame.py"},
    "markupsafe": {"report/draw/page_frame.py"},
    "msgspec": {"logbook/record/chain.py", "logbook/proof/stored_line.py"},  # one line of any kind, and many
    "onnxruntime": {"voice/ear/network.py"},
    "platformdirs": {"place.py"},
    "pyttsx3": {"voice/mouth/speaking_child.py"},
    "rapidfuzz": {"drill/recited/flow_words.py", "drill/recited/recitation.py"},  # words, and flows
    "sounddevice": {"voice/card/portaudio.py"},
    "soundfile": {"voice/sound.py"},
    "soxr": {"voice/sound.py", "voice/card/sounddevice_microphone.py"},  # whole sounds, and a stream
    "vosk": {"voice/ear/vosk_ear.py"},
    "yaml": {"document.py", "checklist/derive/check_sheet.py"},  # reads with places, and writes a check
}
ROOMS = {
    "matplotlib": ("report/draw/plotter.py", "report/bus/endurance_chart.py", "report/trend/trend_chart.py"),
    "numpy": (
        *(
            "airplane/",
            "drill/",
            "fault/",
            "logbook/invented/",
            "report/",
            "session/",
            "trend/",
            "voice/",
            "command/",
        ),
    ),
    "sqlalchemy": ("logbook/school/",),
    "textual": ("screen/full/",),
}
"""These are used all over a room and nowhere else."""


def _imports(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        match node:
            case ast.Import(names=names):
                yield from (each.name.partition(".")[0] for each in names)
            case ast.ImportFrom(module=str(module)):
                yield module.partition(".")[0]


def test_each_outside_library_is_imported_in_its_adapter_only() -> None:
    """Every import of what is neither ours nor Python's own."""
    found: dict[str, set[str]] = {}
    for path, tree in MODULES.items():
        for library in set(_imports(tree)) - sys.stdlib_module_names - {"runner"}:
            found.setdefault(library, set()).add(path)
    astray = {
        library: [path for path in found.pop(library) if not path.startswith(rooms)]
        for library, rooms in ROOMS.items()
    }
    assert found == ADAPTERS
    assert astray == {library: [] for library in ROOMS}


def test_what_is_pure_names_files_and_opens_none() -> None:
    """A `Path` stands in messages and plans; the one reader of files below is `document.py`."""
    touched = [
        f"{path}:{node.lineno}: {node.func.attr}"
        for path, tree in MODULES.items()
        if path.startswith(PURE)
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)
        if node.func.attr in TOUCHES_A_FILE
    ]
    assert touched == []


UNIT = re.compile(
    r"(^|_)(seconds|minutes|hours|days|years|volts|amps|ohms|watts|db|dbfs|hz|celsius|percent|share|at|now|until|not_before|on)$"
)
"""How a number's name ends when it tells its unit; `at`, `now`, `until` are seconds since the epoch."""
IN_WORDS = re.compile(
    r"second|minute|hour|amps|ampere|volt|percent|degree|unit|share|celsius|0 to 1", re.IGNORECASE
)


def _unsaid(path: str, tree: ast.Module) -> Iterator[str]:
    module = ast.get_docstring(tree) or ""
    classes = [node for node in tree.body if isinstance(node, ast.ClassDef)]
    scopes: list[ast.Module | ast.ClassDef] = [tree, *classes]
    for node in (node for scope in scopes for node in scope.body):
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            words = f"{ast.get_docstring(node) or ''} {module if 'unit' in module else ''}"
            for each in (*node.args.args, *node.args.kwonlyargs):
                is_float = each.annotation is not None and "float" in ast.unparse(each.annotation)
                if is_float and not UNIT.search(each.arg) and not IN_WORDS.search(words):
                    yield f"{path}:{node.lineno}: {node.name}({each.arg})"


def test_public_numbers_carry_their_units() -> None:
    """By the parameter's name, or in words beside it, all over."""
    unsaid = [line for path, tree in MODULES.items() for line in _unsaid(path, tree)]
    assert unsaid == []
