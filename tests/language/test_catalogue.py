import pytest

from runner.checklist.kind.item_phrases import phrases_of
from runner.language.catalogue import FlagEnd, Noun, Origin, Outcome, Word
from runner.language.force import understand
from runner.language.meaning import Command
from runner.language.spelling import normalise

# Status of a source: SEEN-2 quoted by another source, MEM from memory, derived by applying the rule.

# (SEEN-2) ICAO Annex 10 Vol II 5.2.1.5.8, Doc 9432 2.6,
# as transcribed in a bilingual ICAO/CAAC list.
TAKEN = {
    "AFFIRM": Word.AFFIRM,
    "CONFIRM": Word.CONFIRM,
    "CORRECTION": Word.CORRECTION,
    "DISREGARD": Word.DISREGARD,
    "NEGATIVE": Word.NEGATIVE,
    "READ BACK": Word.READ_BACK,
    "ROGER": Word.ROGER,
    "SAY AGAIN": Word.SAY_AGAIN,
    "SPEAK SLOWER": Word.SPEAK_SLOWER,
    "STANDBY": Word.STANDBY,
    "UNABLE": Word.UNABLE,
    "WORDS TWICE": Word.WORDS_TWICE,
    "WILCO": Word.ROGER,  # understood and will comply: no answer either
}
NOT_TAKEN = (
    "ACKNOWLEDGE",
    "APPROVED",
    "CANCEL",
    "CHECK",
    "CORRECT",
    "GO AHEAD",
    "HOW DO YOU READ",
    "I SAY AGAIN",
    "MONITOR",
    "REPORT",
    "VERIFY",
)


@pytest.mark.parametrize(("spoken", "word"), TAKEN.items())
def test_an_icao_word_is_always_understood(spoken: str, word: Word) -> None:
    """Each ICAO word that a run needs is in force and marked as ICAO's."""
    assert understand(spoken, phrases_of()) == Command(word)
    origins = {saying.phrase: saying.origin for saying in word.sayings}
    assert origins[normalise(spoken)] is Origin.ICAO


@pytest.mark.parametrize("spoken", NOT_TAKEN)
def test_the_other_icao_words_mean_nothing_here(spoken: str) -> None:
    """The rest of ICAO's list is not in force; "check" needs no answer, "correct" is near "correction"."""
    assert understand(spoken, phrases_of()) is None


def test_nothing_else_is_marked_as_icao() -> None:
    """No word of our own hides behind the standard's name."""
    marked = {saying.phrase for word in Word for saying in word.sayings if saying.origin is Origin.ICAO}
    assert marked == {word.lower() for word in TAKEN}


@pytest.mark.parametrize(
    ("spoken", "word", "origin"),
    [
        ("affirmative", Word.AFFIRM, Origin.FAA),  # FAA Pilot/Controller Glossary (SEEN-2)
        ("hold checklist", Word.STANDBY, Origin.FSF),  # FSF ALAR BN 1.5 (SEEN-2)
        ("resume checklist", Word.CONTINUE, Origin.FSF),  # same
        ("continue checklist", Word.CONTINUE, Origin.FSF),  # same
        ("stand by", Word.STANDBY, Origin.ICAO),  # two spellings of one sound
        ("why", Word.WHY, Origin.OURS),
        ("note", Word.NOTE, Origin.OURS),
        ("put off", Word.PUT_OFF, Origin.OURS),
        ("abandon check", Word.ABANDON, Origin.OURS),
    ],
)
def test_a_variant_means_its_word_and_names_its_source(spoken: str, word: Word, origin: Origin) -> None:
    """Other published sayings, and the tool's few own words, are in force with their origin beside them."""
    assert understand(spoken, phrases_of()) == Command(word)
    assert {saying.phrase: saying.origin for saying in word.sayings}[normalise(spoken)] is origin


def test_every_word_has_a_row() -> None:
    """Each Word has phrases and an effect, its own value first; only what does nothing has no key."""
    assert [word.phrases[0] for word in Word] == [word.value for word in Word]
    assert all(word.effect for word in Word)
    assert [word for word in Word if not word.key] == [Word.ROGER]
    assert len({word.key for word in Word}) == len(Word)


@pytest.mark.parametrize("noun", Noun)
def test_a_noun_agrees_with_its_count(noun: Noun) -> None:
    """English: the plural stands with none and with more than one."""
    plural = f"{noun.value}s"
    assert [noun.of(count) for count in (0, 1, 2)] == [plural, noun.value, plural]


def test_every_phrase_is_in_its_normal_form() -> None:
    """The table's phrases are what a recogniser's text is compared with."""
    phrases = [phrase for word in Word for phrase in word.phrases]
    assert [normalise(phrase) for phrase in phrases] == phrases
    assert len(set(phrases)) == len(phrases)


def test_what_an_eye_must_find_is_marked() -> None:
    """Everything but what passes."""
    assert [outcome.mark for outcome in Outcome] == ["", "CAUTION", "SQUAWK", "STOP"]


def test_a_stored_answer_tells_what_became_of_a_flag() -> None:
    """A number and a label tell nothing of one."""
    assert [FlagEnd.told_by(text) for text in ("flag pulled", "flag stuck")] == list(FlagEnd)
    assert [FlagEnd.told_by(text) for text in ("24.6", "pulled", "")] == [None] * 3
    assert [FlagEnd.of(is_pulled=is_pulled) for is_pulled in (True, False)] == list(FlagEnd)
