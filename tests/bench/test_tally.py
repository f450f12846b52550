"""Counting what ears made of clips, and the table of it."""

from tests.bench.ear.tally import Tally, joined, rows, to_markdown

SPOKEN = frozenset({"yes", "affirm"})


def _tally(*texts: str | None, truth: frozenset[str] = SPOKEN) -> Tally:
    tally = Tally()
    for text in texts:
        tally.add(text, truth, 0.02)
    return tally


def test_every_phrase_that_means_the_same_is_right() -> None:
    """Refused is neither right nor wrong."""
    tally = _tally("yes", "affirm", "no", None)
    assert (tally.right, tally.wrong, tally.refused, tally.clips) == (2, 1, 1, 4)


def test_what_is_taken_where_nothing_in_force_was_said_is_wrong() -> None:
    """There is no right answer to it."""
    tally = _tally("yes", None, truth=frozenset())
    assert (tally.right, tally.wrong, tally.refused) == (0, 1, 1)


def test_counts_of_several_processes_add_up() -> None:
    """Key by key."""
    key, other = ("words", "quiet", "a"), ("words", "5 dB noise", "a")
    total = joined([{key: _tally("yes")}, {key: _tally("no", None), other: _tally(None)}])
    assert (total[key].right, total[key].wrong, total[key].refused) == (1, 1, 1)
    assert total[other].refused == 1


def test_rows_go_from_quiet_to_loud_and_keep_the_engines_order() -> None:
    """20 dB comes before 5 dB; b was asked for before a."""
    noises = ("5 dB noise", "20 dB noise", "quiet", "5 dB babble")
    found = rows({("words", n, e): _tally("yes") for n in noises for e in ("a", "b")}, ("b", "a"))
    assert [row.noise for row in found[::2]] == ["quiet", "20 dB noise", "5 dB babble", "5 dB noise"]
    assert [row.engine for row in found[:2]] == ["b", "a"]


def test_shares_are_of_all_clips() -> None:
    """In percent; compute is a clip's mean in milliseconds."""
    row = rows({("words", "quiet", "a"): _tally("yes", "yes", "no", None)}, ("a",))[0]
    assert (row.right, row.refused, row.wrong) == (50.0, 25.0, 25.0)
    assert round(row.compute_ms) == 20


def test_unknown_sets_have_a_table_of_what_was_taken() -> None:
    """And are not in the first one."""
    tallies = {
        ("words", "quiet", "a"): _tally("yes"),
        ("unknown words", "quiet", "a"): _tally("yes", None, truth=frozenset()),
    }
    text = to_markdown(rows(tallies, ("a",)))
    first, second = text.split("\n\n")
    assert "| words | quiet | a | 1 | 100.0 | 0.0 | 0.00 | 20 |" in first
    assert "| unknown words | quiet | a | 2 | 50.0 | 20 |" in second
    assert "unknown" not in first
