from runner.checklist.model import Outcome
from runner.language.meaning import Picked, Pulled, Stuck
from runner.screen.keycap import BRIEFING, CONFIRMING, clock_answers, item_answers
from tests.core.sample import CHECK, plan_of
from tests.core.sample import gyro as spin_up


def test_an_item_gives_one_key_to_each_answer() -> None:
    """Its own key where the check gives one, else a letter of the label."""
    fit = CHECK.item("fit")
    assert [(one.key, one.label, one.meaning) for one in item_answers(fit)] == [
        ("n", "new", Picked("fit", "new")),
        ("o", "old", Picked("fit", "old")),
    ]


def test_two_answers_never_share_a_key() -> None:
    """Over every item of the check."""
    for item in CHECK.items:
        keys = [one.key for one in item_answers(item)]
        assert len(set(keys)) == len(keys)
        assert all(len(key) == 1 for key in keys)


def test_readings_and_spin_ups_have_no_named_answers_of_their_own() -> None:
    """A reading is typed; a clock's answers stand by its dial."""
    assert item_answers(CHECK.item("volts")) == ()
    assert item_answers(CHECK.item("left flag")) == ()


def test_a_clock_can_be_ended_whatever_is_being_asked() -> None:
    """Its keys clash with no item's, with no other clock's, and with no word that a state waits for."""
    clocks = [answer for pair in clock_answers(CHECK).values() for answer in pair]
    others = [answer for item in CHECK.items for answer in item_answers(item)]
    keys = [answer.key for answer in clocks]
    assert len(set(keys)) == len(keys) == 4
    assert not set(keys) & {answer.key for answer in (*others, *BRIEFING, *CONFIRMING)}


def test_a_clock_is_ended_as_pulled_or_as_a_squawk() -> None:
    """Pulled keeps the response's outcome; stuck is always a squawk."""
    pulled, stuck = clock_answers(CHECK)["left flag"]
    assert (pulled.key, pulled.meaning, pulled.outcome) == ("p", Pulled("left flag"), Outcome.PASS)
    assert (stuck.key, stuck.meaning, stuck.outcome) == ("k", Stuck("left flag"), Outcome.SQUAWK)


def test_keys_last_for_more_clocks_than_the_alphabet_has_pairs() -> None:
    """When the letters run out, marks serve."""
    check = plan_of(*(spin_up(f"g{number}", 30, 60) for number in range(12))).check
    keys = [answer.key for pair in clock_answers(check).values() for answer in pair]
    assert len(set(keys)) == len(keys) == 24
