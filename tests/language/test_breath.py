from runner.language.breath import (
    LONGEST_SECONDS,
    Passage,
    get_breaths,
    get_clauses,
    get_sentences,
    spoken_seconds,
)


def test_a_text_falls_apart_into_sentences_with_their_marks() -> None:
    """A decimal in words has no mark."""
    text = " Two four decimal one volts. Flood lamps? Say again. "
    assert get_sentences(text) == ("Two four decimal one volts.", "Flood lamps?", "Say again.")


def test_numbers_and_read_backs_take_longer_than_running_text() -> None:
    """At 97 words a minute."""
    assert spoken_seconds("left flood lamps") < spoken_seconds("two four six")
    assert spoken_seconds("left flood lamps", is_read_back=True) == spoken_seconds("two four six")


def test_no_breath_is_longer_than_its_bound_and_nothing_is_lost() -> None:
    """Cut between sentences, in order."""
    passages = [Passage("Nine words stand in this sentence, one, six, two.") for _ in range(5)]
    breaths = get_breaths(passages)
    assert len(breaths) > 1
    assert all(spoken_seconds(breath) <= LONGEST_SECONDS for breath in breaths)
    assert " ".join(breaths) == " ".join(passage.text for passage in passages)


def test_no_breath_asks_for_more_than_two_things() -> None:
    """However short they are; what asks for nothing does not count."""
    tasks = [Passage(f"{name}.", is_task=True) for name in ("Left flag", "Right flag", "Volts")]
    assert get_breaths([Passage("Correction."), *tasks]) == ("Correction. Left flag. Right flag.", "Volts.")


def test_all_that_is_said_slower_takes_more_breaths() -> None:
    """The bound holds for it as well."""
    passages = [Passage("These words stand in a rather short sentence.") for _ in range(2)]
    assert len(get_breaths(passages)) == 1
    assert len(get_breaths(passages, is_slower=True)) == 2


def test_a_sentence_that_is_too_long_is_cut_at_its_commas() -> None:
    """As few times as it takes."""
    half = "eleven words stand in this one half of a long sentence"
    assert get_breaths([Passage(f"{half}, and {half}, {half}.")]) == (
        f"{half},",
        f"and {half},",
        f"{half}.",
    )
    assert get_clauses("Left, right, left.") == ("Left, right, left.",)


def test_a_clause_that_is_too_long_is_not_torn() -> None:
    """It is a breath of its own."""
    long = " ".join(["word"] * 30) + "."
    assert get_breaths([Passage("Short."), Passage(long)]) == ("Short.", long)
