"""The CMU Pronouncing Dictionary as it is shipped: 126,000 words of American English in ARPAbet phones."""

import gzip
import re
import zlib
from functools import cache
from typing import Final

from runner.errors import ModelError
from runner.place import data_folder
from runner.voice.model.model_store import AGAIN, model_files

FILE: Final = "dictionary/cmudict.dict.gz"

_LINE: Final = re.compile(r"\n([^\s(]+)(?:\(\d+\))? ([^\n#]*)")


@cache
def dictionary_text() -> str:
    """The whole of it as one text that begins with a line's end, each line `word phones` or `word(2) phones`.

    ModelError when the file is missing or damaged.
    """
    file = model_files(data_folder("models"))[FILE]
    try:
        return "\n" + gzip.decompress(file.content()).decode("ascii")
    except (OSError, EOFError, zlib.error, UnicodeDecodeError) as error:
        raise ModelError(f"{file.path}: cannot be unpacked ({error}); {AGAIN}") from error


def dictionary_words() -> dict[str, list[list[str]]]:
    """Every word with its pronunciations, each a list of phones with stress marks; 0.3 s."""
    words: dict[str, list[list[str]]] = {}
    for word, phones in _LINE.findall(dictionary_text()):
        words.setdefault(word, []).append(phones.split())
    return words


def spellings_of(word: str) -> tuple[str, ...]:
    """All of the pronunciations of one word; a plain search is quick and needs no table of 135,000."""
    text = dictionary_text()
    found: list[str] = []
    for head in (f"\n{word} ", *(f"\n{word}({n}) " for n in (2, 3, 4))):
        start = text.find(head)
        if start < 0:
            break
        line = text[start + len(head) : text.find("\n", start + 1)]
        found.append(line.partition("#")[0].strip())
    return tuple(found)
