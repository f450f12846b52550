from decimal import Decimal
from pathlib import Path

import pytest

from runner.document import Node, parse_document, read_document
from runner.errors import FileError

PATH = Path("x.yaml")


def parse(words: str) -> Node:
    """The document under test."""
    return parse_document(words, PATH)


def test_words_stay_as_the_author_wrote_them() -> None:
    """What YAML 1.1 would turn into truth values, octal and sexagesimal numbers stays text."""
    node = parse("a: [yes, no, on, off, 012, 12:30, 1_000, null, 24.60]")
    assert node.mapping(["a"])["a"].texts() == (
        *("yes", "no", "on", "off", "012", "12:30", "1_000", "null", "24.60"),
    )


def test_every_value_knows_its_line_and_column() -> None:
    """Lines and columns count from 1, for keys and for values."""
    node = parse("a: 1\nb:\n  - c:  deep\n").entries()
    deep = node["b"].items()[0].entries()["c"]
    assert (deep.place.line, deep.place.column) == (3, 9)
    assert deep.key_place is not None
    assert (deep.key_place.line, deep.key_place.column) == (3, 5)
    assert str(deep.place) == "x.yaml:3:9"


def test_a_context_leads_every_message() -> None:
    """What the reader is inside of is named from the outside in, and carries on to inner values."""
    node = parse("volts: abc").within('section "Bus"').within('item "volts"')
    with pytest.raises(FileError) as caught:
        node.mapping(["volts"])["volts"].number()
    assert str(caught.value) == (
        'x.yaml:1:8: section "Bus": item "volts": "abc" is not a number; write digits such as 24.5'
    )
    assert (caught.value.place.line, caught.value.exit_code) == (1, 2)


SYNTAX = {
    "empty file": ("", 1, 1, "the file is empty; write the document"),
    "comments only": ("# nothing\n", 1, 1, "the file is empty"),
    "open bracket": ("a: [1, 2\nb: 3\n", 2, 2, "check indentation, colons and quotes"),
    "open quote": ('a: "words\n', 2, 1, "check indentation, colons and quotes"),
    "tab": ("a:\n\tb: 1\n", 2, 1, "indent with spaces"),
    "uneven indent": ("a: 1\n  b: 2\n", 2, 4, "check indentation"),
    "duplicate key": ("a: 1\nb: 2\na: 3\n", 3, 1, '"a" is written twice; keep one of them'),
    "key is a list": ("? [a, b]\n: 1\n", 1, 3, "a key must be plain words"),
    "two documents": ("a: 1\n---\nb: 2\n", 2, 1, 'remove the "---" line'),
    "anchor in itself": ("a: &x [1, *x]\n", 1, 4, "an anchor refers to itself"),
    "unknown alias": ("a: *nowhere\n", 1, 4, "undefined alias"),
    "control character": ("a: 1\nb: x\x07y\n", 2, 5, "character number 7 may not stand here"),
    "nested too deep": ("[" * 5000, 1, 1, "nested too deep"),
}


@pytest.mark.parametrize(("words", "line", "column", "advice"), SYNTAX.values(), ids=SYNTAX.keys())
def test_what_is_not_a_document_is_refused_at_its_place(
    words: str, line: int, column: int, advice: str
) -> None:
    """Each broken file gets one message with the line, the column and what to do."""
    with pytest.raises(FileError) as caught:
        parse(words)
    assert (caught.value.place.line, caught.value.place.column) == (line, column)
    assert advice in caught.value.message


def test_aliases_do_not_multiply() -> None:
    """Lists of lists of aliases (3.9e8 values when written out) are read in no time, each value once."""
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 9)]
    inner = parse("\n".join(lines)).entries()["a8"].items()[0].items()[8]
    line = inner.place.line
    assert line == 7


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    """A name that leads nowhere is a file error, not a traceback."""
    with pytest.raises(FileError, match=r"none\.yaml:1:1: there is no such file; check the name"):
        read_document(tmp_path / "none.yaml")


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    """A folder in place of a file is said so."""
    with pytest.raises(FileError, match="cannot be read: Is a directory"):
        read_document(tmp_path)


def test_text_in_another_encoding_is_placed(tmp_path: Path) -> None:
    """The first byte that is not UTF-8 has a line and a column."""
    path = tmp_path / "latin.yaml"
    path.write_bytes(b"a: 1\nb: caf\xe9\n")
    with pytest.raises(
        FileError, match=r"latin\.yaml:2:7: not UTF-8 text from here on; save the file as UTF-8"
    ):
        read_document(path)


def test_a_byte_order_mark_moves_nothing(tmp_path: Path) -> None:
    """A file saved with a byte order mark reads the same, with the same columns."""
    path = tmp_path / "mark.yaml"
    path.write_bytes(b"\xef\xbb\xbfa: 1\n")
    key = read_document(path).entries()["a"].key_place
    assert key is not None
    assert (key.line, key.column) == (1, 1)


def test_an_unknown_key_brings_the_nearest_known_one() -> None:
    """A slip of the pen is answered with the word that was meant, at the key."""
    with pytest.raises(FileError, match=r'x\.yaml:2:1: unknown key "cautoins"; did you mean "cautions"\?'):
        parse("check: x\ncautoins: y").mapping(["check"], ["cautions", "pronounce"])


def test_an_unknown_key_like_none_brings_them_all() -> None:
    """Where nothing is near, all known keys are listed."""
    with pytest.raises(FileError, match='unknown key "zzz"; known keys: check, cautions'):
        parse("check: x\nzzz: y").mapping(["check"], ["cautions"])


def test_a_missing_key_is_named() -> None:
    """The message says which line to add."""
    with pytest.raises(FileError, match=r'"check" is missing; add "check: \.\.\."'):
        parse("cautions: x").mapping(["check"], ["cautions"])


VALUES = {
    "list for words": ("[a]", "text", "expected plain words here"),
    "empty words": ("''", "text", "the value is empty; write it after the colon"),
    "words for a list": ("a", "items", 'expected a list here; start each entry with "- "'),
    "empty list": ("[]", "items", "the list is empty; write at least one entry"),
    "words for a mapping": ("a", "entries", 'expected "key: value" lines here'),
    "list for a mapping": ("[a]", "entries", 'expected "key: value" lines here'),
    "exponent": ("1e5", "number", '"1e5" is not a number'),
    "underscore": ("1_000", "number", '"1_000" is not a number'),
    "infinity": (".inf", "number", '".inf" is not a number'),
    "not a number": ("nan", "number", '"nan" is not a number'),
    "other digits": ("٢٤", "number", "is not a number; write digits"),
    "comma": ("24,5", "number", '"24,5" is not a number; write digits such as 24.5'),
    "yes": ("yes", "flag", '"yes" is neither "true" nor "false"'),
    "capital": ("True", "flag", '"True" is neither "true" nor "false"'),
}


@pytest.mark.parametrize(("words", "ask", "message"), VALUES.values(), ids=VALUES.keys())
def test_a_value_of_the_wrong_kind_is_refused(words: str, ask: str, message: str) -> None:
    """Each question that a reader may put to a value refuses what does not answer it."""
    with pytest.raises(FileError) as caught:
        getattr(parse(words), ask)()
    assert message in caught.value.message


def test_numbers_are_exact() -> None:
    """Decimals keep the digits that the author wrote."""
    assert parse("24.60").number() == Decimal("24.60")
    assert parse("-0.5").number() == Decimal("-0.5")


def test_a_number_below_its_floor_is_refused() -> None:
    """The smallest allowed value is in the message."""
    with pytest.raises(FileError, match="-1 is too small; write 0 or more"):
        parse("-1").number(at_least="0")


def test_flags_are_true_or_false() -> None:
    """The two words that a flag may be."""
    assert parse("true").flag() is True
    assert parse("false").flag() is False


def test_a_word_out_of_a_set_brings_the_nearest() -> None:
    """A near miss is answered with the word that was meant, a far one with the whole set."""
    with pytest.raises(FileError, match=r'"sqwak" is not known here; did you mean "squawk"\?'):
        parse("sqwak").one_of(["pass", "squawk"])
    with pytest.raises(FileError, match='"zzz" is not known here; write one of: pass, squawk'):
        parse("zzz").one_of(["pass", "squawk"])
    assert parse("pass").one_of(["pass"]) == "pass"


def test_one_text_may_stand_for_a_list_of_one() -> None:
    """A single phrase needs no brackets."""
    assert parse("both on").texts() == ("both on",)
    assert parse("[both on, both lit]").texts() == ("both on", "both lit")
