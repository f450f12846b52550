"""Views built from the real machine, driven through a whole run."""

from dataclasses import replace
from decimal import Decimal

import pytest

from runner.checklist.format.key import with_keys
from runner.core.event import Answered, Channel, MicLost
from runner.core.state import State
from runner.language.catalogue import Word
from runner.language.meaning import Picked
from runner.screen.build import build_view
from runner.screen.keys import KeyedAnswer, Typed, key_to_intent
from runner.screen.view import ClockState, HeardVerdict, SoundView, View
from tests.core import danger
from tests.core.sample import CHECK, PLAN, Run, before_restoration, begun, completed, powered

KEYED = iter(with_keys(CHECK.items))
WITH_KEYS = replace(
    PLAN,
    check=replace(
        CHECK,
        sections=tuple(
            replace(each, items=tuple(next(KEYED) for _ in each.items)) for each in CHECK.sections
        ),
    ),
)
"""The sample with a letter for every answer, as a check that was loaded has them."""

EAR = SoundView(engine="built-in", dbfs=-40.0)


def view_of(run: Run, sound: SoundView = EAR, reason: str = "") -> View:
    """The run as it is shown now."""
    return build_view(
        run.machine, run.at, airplane="Sample", registration="QQ-ABC", sound=sound, reason=reason
    )


def test_before_the_start_nothing_can_be_answered() -> None:
    """No item, no words."""
    view = view_of(Run())
    assert (view.state, view.number, view.answers, view.words) == (State.READY, 0, (), ())


def test_the_briefing_shows_the_cautions_and_waits_for_continue() -> None:
    """One key goes on."""
    view = view_of(Run().start())
    assert view.briefing == ("Ground use only", "The check drains the battery")
    assert [(answer.key, answer.label) for answer in view.answers] == [("c", "continue")]
    assert Word.PUT_OFF not in view.words


def test_an_item_is_shown_with_its_place_and_answers() -> None:
    """Section, number, kind, keys."""
    view = view_of(Run(WITH_KEYS).start().say(Word.CONTINUE))
    assert (view.section, view.number, view.kind, view.is_critical) == ("Power", 1, "choice", False)
    assert (view.challenge, [answer.key for answer in view.answers]) == ("FIT", ["n", "o"])
    assert (view.airplane, view.registration, view.check) == ("Sample", "QQ-ABC", "Sample reserve check")


def test_a_reading_brings_its_gauge_and_clocks_run_beside_it() -> None:
    """Both gyros were powered by the answer before."""
    run = powered()
    view = view_of(run)
    assert view.gauge is not None
    assert (view.gauge.item, view.gauge.unit, view.gauge.resolution) == ("volts", "volts", Decimal("0.1"))
    assert (view.gauge.low, view.gauge.high) == (Decimal(10), Decimal(34))
    assert (view.kind, view.is_critical, view.answers) == ("reading", True, ())
    assert [(clock.name, clock.limit_seconds) for clock in view.clocks] == [
        ("left gyro", 60),
        ("right gyro", 90),
    ]
    assert [len(clock.answers) for clock in view.clocks] == [1, 1]


def test_a_clock_shows_its_time_and_offers_stuck_from_the_limit_on() -> None:
    """Power came on at the onset of the answer, half a second before it was understood."""
    run = powered().tick(60)
    left, right = view_of(run).clocks
    assert (left.elapsed_seconds, left.state, len(left.answers)) == (60.5, ClockState.LIMIT, 2)
    assert (right.state, len(right.answers)) == (ClockState.ADVISE, 1)


def test_a_value_out_of_band_is_asked_in_figures() -> None:
    """Affirm, negative, or another number."""
    view = view_of(powered().read("21.5"))
    assert view.state is State.CONFIRMING
    assert view.question == "21.5 volts is a squawk: confirm?"
    assert [answer.key for answer in view.answers] == ["a", "n"]
    assert view.gauge is not None


def test_abandoning_is_asked_without_a_gauge() -> None:
    """So that a second ctrl+q can leave."""
    view = view_of(powered().say(Word.ABANDON))
    assert (view.question, view.gauge) == ("Abandon the check?", None)


def test_a_hold_names_the_item_and_waits_for_continue() -> None:
    """Its clocks can still be ended."""
    view = view_of(powered().say(Word.STANDBY))
    assert view.challenge == "Holding at: VOLTS"
    assert [answer.label for answer in view.answers] == ["continue"]
    assert len(view.clocks) == 2


def test_waiting_names_the_gyros() -> None:
    """All that can be asked is answered, one clock is open."""
    run = powered().read("24.6").pick("lamps", "both").pick("radio", "dead").pulled("left flag")
    view = view_of(run)
    assert (view.state, view.challenge, view.number) == (State.WAITING, "Waiting: right gyro", 0)
    assert [clock.name for clock in view.clocks] == ["right gyro"]


def test_items_put_off_squawks_and_cautions_are_counted() -> None:
    """As the outlook has them."""
    view = view_of(powered().read("24.6").say(Word.PUT_OFF).pick("radio", "alive"))
    assert (view.put_off, view.squawks, view.cautions) == (("LAMPS",), 1, 0)


def test_the_battery_line_counts_from_the_selector_on() -> None:
    """36 A for 100 s are 1.0 Ah, of 20 Ah a twentieth (ampere-hours = amperes x hours)."""
    run = powered()
    before = view_of(run).battery.ampere_hours
    battery = view_of(run.tick(100)).battery
    assert abs(battery.ampere_hours - before - 1.0) < 1e-6
    assert (battery.usable_ampere_hours, battery.warn_share) == (20.0, 0.1)


def test_the_number_never_passes_the_total() -> None:
    """An item that the answers leave out counts in neither."""
    run = before_restoration().pick("normal", "normal")
    view = view_of(run)
    assert (view.challenge, view.number, view.total) == ("CALL", 9, 9)


def test_a_complete_run_says_what_was_found_and_takes_no_answer() -> None:
    """Counts, no verdict on the airplane."""
    view = view_of(completed())
    assert (view.state, view.challenge) == (State.COMPLETE, "Check complete")
    assert (view.answers, view.words, view.clocks) == ((), (), ())


def test_what_was_heard_comes_from_the_machine_with_the_sessions_reason() -> None:
    """Taken has no reason; not taken has one."""
    taken = view_of(begun(), reason="not in force").sound.heard
    assert taken is not None
    assert (taken.text, taken.verdict, taken.reason) == ("continue", HeardVerdict.TAKEN, "")
    refused = view_of(begun().mishear(), reason="not in force").sound.heard
    assert refused is not None
    assert (refused.verdict, refused.reason) == (HeardVerdict.REFUSED, "not in force")


def test_answers_go_by_keys_without_an_ear_or_with_a_lost_one() -> None:
    """By voice otherwise."""
    assert view_of(begun()).sound.channel is Channel.VOICE
    assert view_of(begun(), SoundView()).sound.channel is Channel.KEYS
    run = begun()
    assert view_of(run.take(MicLost(run.at))).sound.channel is Channel.KEYS


class Keyboard:
    """A pilot's keys, as the screen reads them."""

    def __init__(self, run: Run) -> None:
        self.run = run
        self.typed = ""

    def press(self, *keys: str) -> None:
        """Each key answers what is shown at its time."""
        for key in keys:
            intent = key_to_intent(key, replace(view_of(self.run), typed=self.typed))
            assert isinstance(intent, KeyedAnswer | Typed), (key, intent)
            self.typed = intent.text if isinstance(intent, Typed) else ""
            if isinstance(intent, KeyedAnswer):
                self.run.mean(intent.meaning, text=intent.text)


def test_a_whole_check_runs_by_keys_alone() -> None:
    """Every key is one that the view shows; a squawk, a stuck gyro and the restoration among them."""
    run = Run(WITH_KEYS).start()
    keyboard = Keyboard(run)
    keyboard.press("c", "n", "r", *"24.6", "enter", "l", "d", "g")
    run.tick(120)
    (clock,) = view_of(run).clocks
    keyboard.press(clock.answers[-1].key, "n", "c")
    view = view_of(run)
    assert (view.state, view.squawks) == (State.COMPLETE, 2)


def test_a_stop_is_shown_with_what_to_do_and_what_ends_it() -> None:
    """Only answers that are taken have keys, and no word that is refused has one."""
    view = view_of(danger.begun().pick("area", "somebody there"))
    assert (view.state, view.challenge) == (State.STOPPED, "AREA")
    assert (view.stop, view.remedy, view.stops) == ("somebody there", "Wait until they are away", 1)
    assert [(answer.key, answer.label) for answer in view.answers] == [
        ("c", "clear"),
        ("s", "somebody there"),
        ("w", "wet"),
    ]
    refused = {Word.CONTINUE, Word.UNABLE, Word.PUT_OFF, Word.AFFIRM}
    assert not refused & set(view.words)
    assert {Word.STANDBY, Word.ABANDON, Word.SQUAWK, Word.CORRECTION} <= set(view.words)


def test_a_stop_stays_in_view_while_it_is_held_and_while_things_come_back() -> None:
    """Danger does not leave the screen because something else is asked."""
    held = view_of(danger.begun().pick("area", "somebody there").say(Word.STANDBY))
    assert (held.state, held.stop) == (State.HOLDING, "somebody there")
    back = view_of(danger.dimmed().read("19"))
    assert (back.state, back.challenge, back.stop) == (State.RESTORING, "LIGHTS BRIGHT", "19 volts")
    assert not back.is_abandoning


def test_with_everything_back_only_trying_again_and_abandoning_have_keys() -> None:
    """There is nothing to read."""
    run = danger.dimmed().read("19").pick("lights bright", "lights bright").pick("heater off", "heater off")
    view = view_of(run.pick("normal", "normal"))
    assert view.challenge == "Stopped at: VOLTS"
    assert (view.gauge, [answer.label for answer in view.answers]) == (None, ["continue", "abandon check"])
    assert Word.CONTINUE in view.words


def test_a_stop_that_is_over_leaves_only_its_count() -> None:
    """The run goes on."""
    view = view_of(danger.begun().pick("area", "somebody there").pick("area", "clear"))
    assert (view.stop, view.remedy, view.stops, view.squawks) == ("", "", 1, 0)


@pytest.mark.parametrize(
    ("run", "state", "words"),
    [
        (Run(), State.READY, "Starting"),
        (Run().start(), State.BRIEFING, "Cautions"),
        (powered().say(Word.NOTE), State.NOTING, "Say the note; enter ends it"),
        (begun().say(Word.ABANDON).say(Word.AFFIRM), State.ABANDONED, "Check abandoned"),
    ],
    ids=["ready", "briefing", "noting", "abandoned"],
)
def test_where_no_item_is_asked_the_large_line_says_what_goes_on(run: Run, state: State, words: str) -> None:
    """The line that is read from across the cockpit is never empty and never an item that is not asked."""
    view = view_of(run)
    assert (view.state, view.challenge) == (state, words)


def test_only_words_of_which_something_would_come_act() -> None:
    """At a critical reading nothing is put off, and nothing waits for affirm; all stay in force."""
    view = view_of(powered())
    assert {Word.PUT_OFF, Word.UNABLE, Word.AFFIRM, Word.CONTINUE} <= set(view.words)
    assert not {Word.PUT_OFF, Word.UNABLE, Word.AFFIRM, Word.CONTINUE} & set(view.acting)
    assert {Word.STANDBY, Word.SAY_AGAIN, Word.CORRECTION, Word.ABANDON} <= set(view.acting)
    lamps = view_of(powered().read("24.6"))
    assert {Word.PUT_OFF, Word.UNABLE, Word.NEGATIVE} <= set(lamps.acting)
    before = view_of(Run(WITH_KEYS).start().say(Word.CONTINUE))
    assert not {Word.CORRECTION, Word.READ_BACK, Word.CONFIRM} & set(before.acting)


def test_asking_what_acts_changes_nothing() -> None:
    """The view is built four times a second."""
    run = powered()
    before = (run.machine.progress, run.machine.turn, run.machine.last_heard)
    view_of(run)
    assert (run.machine.progress, run.machine.turn, run.machine.last_heard) == before


def test_the_band_comes_with_a_value_that_is_out_of_it() -> None:
    """In confirming, and at a stop by a value."""
    assert view_of(powered()).band == ""
    assert view_of(powered().read("21.5")).band.startswith("passes from ")
    assert view_of(powered().say(Word.ABANDON)).band == ""


def test_what_was_keyed_is_told_apart_from_what_was_heard() -> None:
    """By the channel of the last answer."""
    run = begun()
    heard = view_of(run).sound.heard
    assert heard is not None
    assert heard.channel is Channel.VOICE
    run.take(Answered(run.at, run.machine.turn, Picked("fit", "new"), "new", 1.0, run.at, Channel.KEYS))
    keyed = view_of(run).sound.heard
    assert keyed is not None
    assert (keyed.text, keyed.channel) == ("new", Channel.KEYS)


def test_a_run_that_is_over_brings_its_findings() -> None:
    """Squawks, then cautions, each with its challenge and its value; a run without any brings none."""
    run = powered().read("21.5").say(Word.AFFIRM).pick("lamps", "left out").pick("radio", "dead")
    run.tick(61).pulled("left flag").pulled("right flag").pick("normal", "normal")
    assert view_of(run).findings == ()
    assert view_of(run.pick("call", "check complete")).findings[:2] == (
        "squawk: VOLTS: 21.5 volts",
        "squawk: LAMPS: left out",
    )
    assert view_of(completed()).findings == ()


def test_a_clock_s_answer_brings_the_author_s_phrase() -> None:
    """What the ear takes is what the dial shows."""
    (answer, *_) = view_of(powered()).clocks[0].answers
    assert (answer.say or answer.label) == "left pulled"


def test_a_note_that_is_typed_is_not_said_to_be_recorded() -> None:
    """By keys alone, and where the microphone is gone."""
    by_keys = view_of(powered().say(Word.NOTE), SoundView())
    assert (by_keys.is_note_typed, by_keys.challenge) == (True, "Type the note; enter keeps it")
    assert by_keys.sound.said == ""
    run = powered()
    run.take(MicLost(run.at))
    lost = view_of(run.say(Word.NOTE))
    assert lost.is_note_typed
    assert run.said == "Type the note."
    assert not view_of(powered().say(Word.NOTE)).is_note_typed
