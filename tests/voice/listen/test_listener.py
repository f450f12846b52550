"""The listener, with a recogniser that writes down what it is given."""

from collections.abc import Sequence

import numpy as np
import pytest

from runner.voice.listen.echo import EchoGate
from runner.voice.listen.listener import NOTE_WAIT_SECONDS, Listener
from runner.voice.listen.noise import Loudness, NoiseFloor, RoomLimits
from runner.voice.listen.result import Level, Recorded, Result, RoomChanged, SpeechStarted, UtteranceHeard
from runner.voice.port import RATE, Block, Guess, Hearing, More

COUNT = 480
GENERATOR = np.random.default_rng(4)


class WritingRecogniser:
    """Hears its first phrase in whatever it is fed, and remembers what that was."""

    name = "writing"

    def __init__(self, *, settles_after: int = 1000) -> None:
        self.phrases: tuple[str, ...] = ()
        self.fed: list[Block] = []
        self.utterances: list[list[Block]] = []
        self._settles_after = settles_after

    def missing_words(self, phrases: Sequence[str]) -> tuple[str, ...]:
        """None."""
        del phrases
        return ()

    def expect(self, phrases: Sequence[str]) -> None:
        """Remember them."""
        self.phrases = tuple(phrases)

    def feed(self, block: Block, silence_seconds: float = 0.0) -> Guess:
        """Remember it."""
        del silence_seconds
        self.fed.append(block)
        return Guess(self.phrases[0], More.NOTHING if len(self.fed) >= self._settles_after else More.UNKNOWN)

    def finish(self) -> Hearing:
        """Give out the first phrase."""
        fed, self.fed = self.fed, []
        self.utterances.append(fed)
        return Hearing(self.phrases[0], 0.9, fed[0].started_at, fed[-1].ended_at, 0.0)


class Ramp:
    """A listener with sound poured into it, second after second."""

    def __init__(
        self, *, settles_after: int = 1000, gate: EchoGate | None = None, floor: NoiseFloor | None = None
    ) -> None:
        self.recogniser = WritingRecogniser(settles_after=settles_after)
        self.listener = Listener(self.recogniser, gate=gate, floor=floor)
        self.now = 100.0

    def pour(self, seconds: float, amplitude: float) -> list[Result]:
        """Blocks of noise of that strength; what came of them, without the levels."""
        results: list[Result] = []
        for _ in range(round(seconds * RATE / COUNT)):
            samples = (amplitude * GENERATOR.standard_normal(COUNT)).astype(np.float32)
            results += self.listener.hear(Block(samples, self.now))
            self.now += COUNT / RATE
        return [result for result in results if not isinstance(result, Level)]


QUIET, SPEECH, ROAR = 0.001, 0.1, 0.2


def test_an_utterance_comes_out_once_with_its_turn_and_its_first_sound() -> None:
    """Speech between silences is one Heard, and the pre-roll reaches back before it began."""
    ramp = Ramp()
    ramp.listener.expect(7, ["set"])
    ramp.pour(1.0, QUIET)
    began = ramp.now
    results = ramp.pour(0.6, SPEECH) + ramp.pour(1.0, QUIET)
    started, heard = results
    assert isinstance(started, SpeechStarted)
    assert isinstance(heard, UtteranceHeard)
    assert (heard.turn, heard.hearing.text) == (7, "set")
    assert began - 0.6 < heard.hearing.onset_at < began - 0.3
    assert heard.decided_at == pytest.approx(began + 0.6 + 0.6, abs=0.04)


def test_the_recogniser_gets_every_block_of_an_utterance_once_and_in_order() -> None:
    """No block is lost or doubled where the pre-roll meets the speech."""
    ramp = Ramp()
    ramp.listener.expect(1, ["set"])
    ramp.pour(1.0, QUIET)
    ramp.pour(0.6, SPEECH)
    ramp.pour(1.0, QUIET)
    starts = [block.started_at for block in ramp.recogniser.utterances[0]]
    assert np.diff(starts) == pytest.approx(COUNT / RATE)


def test_a_settled_guess_ends_the_utterance_early() -> None:
    """Once the recogniser needs to hear no more, a short silence is enough."""
    ramp = Ramp(settles_after=20)
    ramp.listener.expect(1, ["set"])
    ramp.pour(1.0, QUIET)
    began = ramp.now
    heard = (ramp.pour(0.6, SPEECH) + ramp.pour(1.0, QUIET))[-1]
    assert isinstance(heard, UtteranceHeard)
    assert heard.decided_at == pytest.approx(began + 0.6 + 0.06, abs=0.04)


def test_its_own_prompt_is_never_heard() -> None:
    """Loud sound between the start of a prompt and the end of its tail reaches nobody."""
    ramp = Ramp()
    ramp.listener.expect(1, ["set"])
    ramp.pour(1.0, QUIET)
    ramp.listener.playback_started()
    results = ramp.pour(2.0, SPEECH)
    ramp.listener.playback_ended(ramp.now)
    results += ramp.pour(0.12, SPEECH) + ramp.pour(1.0, QUIET)
    assert results == []
    assert ramp.recogniser.fed == []


def test_a_prompt_gives_up_what_is_being_said() -> None:
    """Half an answer is thrown away when a prompt cuts in, and the next one starts afresh."""
    ramp = Ramp()
    ramp.listener.expect(1, ["set"])
    ramp.pour(1.0, QUIET)
    ramp.pour(0.3, SPEECH)
    ramp.listener.playback_started()
    ramp.pour(1.0, SPEECH)
    ramp.listener.playback_ended(ramp.now)
    after = ramp.now
    ramp.pour(0.5, QUIET)
    heard = (ramp.pour(0.5, SPEECH) + ramp.pour(1.0, QUIET))[-1]
    assert isinstance(heard, UtteranceHeard)
    assert heard.hearing.onset_at >= after


def test_with_a_headset_speech_into_a_prompt_is_heard() -> None:
    """Where microphone and loudspeaker are apart, the pilot may interrupt."""
    ramp = Ramp(gate=EchoGate(has_headset=True))
    ramp.listener.expect(1, ["set"])
    ramp.pour(1.0, QUIET)
    ramp.listener.playback_started()
    results = ramp.pour(0.5, SPEECH) + ramp.pour(1.0, QUIET)
    assert [type(result) for result in results] == [SpeechStarted, UtteranceHeard]


def test_an_answer_keeps_the_turn_it_began_in() -> None:
    """New phrases come into force while someone speaks: the answer belongs to the old turn."""
    ramp = Ramp()
    ramp.listener.expect(1, ["set"])
    ramp.pour(1.0, QUIET)
    ramp.pour(0.3, SPEECH)
    ramp.listener.expect(2, ["off"])
    first = (ramp.pour(0.3, SPEECH) + ramp.pour(1.0, QUIET))[-1]
    second = (ramp.pour(0.3, SPEECH) + ramp.pour(1.0, QUIET))[-1]
    assert isinstance(first, UtteranceHeard)
    assert isinstance(second, UtteranceHeard)
    assert (first.turn, second.turn) == (1, 2)


def test_with_no_phrases_nothing_is_listened_to() -> None:
    """Speech while nothing is expected reaches no recogniser."""
    ramp = Ramp()
    ramp.listener.expect(1, ["set"])
    ramp.listener.expect(2, [])
    assert ramp.pour(1.0, QUIET) + ramp.pour(1.0, SPEECH) + ramp.pour(1.0, QUIET) == []


def test_a_note_is_kept_as_sound_and_not_recognised() -> None:
    """A note comes out with its samples; afterwards nothing is listened to until phrases come."""
    ramp = Ramp()
    ramp.listener.record(3)
    ramp.pour(1.0, QUIET)
    began = ramp.now
    results = ramp.pour(1.5, SPEECH) + ramp.pour(2.5, QUIET)
    note = results[-1]
    assert isinstance(note, Recorded)
    assert note.turn == 3
    assert note.started_at < began - 0.3
    assert len(note.samples) / RATE == pytest.approx(note.decided_at - note.started_at, abs=0.001)
    assert ramp.recogniser.utterances == []
    assert ramp.pour(1.0, SPEECH) == []


def test_a_note_that_nobody_speaks_ends_empty() -> None:
    """Silence is not waited for without end."""
    ramp = Ramp()
    ramp.listener.record(3)
    (note,) = ramp.pour(NOTE_WAIT_SECONDS + 1.0, QUIET)
    assert isinstance(note, Recorded)
    assert len(note.samples) == 0


def test_a_note_may_be_given_up_for_an_answer() -> None:
    """New phrases end the note that was being recorded."""
    ramp = Ramp()
    ramp.listener.record(3)
    ramp.pour(1.0, QUIET)
    ramp.pour(0.5, SPEECH)
    ramp.listener.expect(4, ["set"])
    ramp.pour(1.0, QUIET)
    heard = (ramp.pour(0.5, SPEECH) + ramp.pour(1.0, QUIET))[-1]
    assert isinstance(heard, UtteranceHeard)
    assert heard.turn == 4


def test_a_room_that_grows_loud_and_quiet_again_is_told_of_once_each() -> None:
    """Steady noise is taken for the room and not for speech for ever."""
    ramp = Ramp(floor=NoiseFloor(RoomLimits(window_seconds=2.0)))
    ramp.listener.expect(1, ["set"])
    ramp.pour(3.0, QUIET)
    loud = [result for result in ramp.pour(5.0, ROAR) if isinstance(result, RoomChanged)]
    assert loud[-1].room is Loudness.TOO_LOUD
    calm = [result for result in ramp.pour(5.0, QUIET) if isinstance(result, RoomChanged)]
    assert calm[-1].room is Loudness.QUIET
    assert ramp.listener.floor.room is Loudness.QUIET
    assert len(loud) <= 2
    assert len(calm) <= 2


def test_every_block_has_a_level_for_the_meter() -> None:
    """The last result of each block is a Level, gated or not."""
    ramp = Ramp()
    block = Block(np.full(COUNT, 0.5, np.float32), 100.0)
    open_level = ramp.listener.hear(block)[-1]
    ramp.listener.playback_started()
    gated_level = ramp.listener.hear(block)[-1]
    assert isinstance(open_level, Level)
    assert isinstance(gated_level, Level)
    assert (open_level.is_gated, gated_level.is_gated) == (False, True)
    assert open_level.dbfs == pytest.approx(gated_level.dbfs)


def test_starting_over_forgets_what_is_being_said_even_where_the_recogniser_fails() -> None:
    """The next utterance is heard whole."""
    ramp = Ramp()
    ramp.listener.expect(1, ["set"])
    ramp.pour(1.0, QUIET)
    ramp.pour(0.3, SPEECH)
    assert ramp.listener.is_hearing
    ramp.recogniser.fed.clear()  # so that it raises when it is to finish
    ramp.listener.start_over()
    assert not ramp.listener.is_hearing
    ramp.pour(1.0, QUIET)
    assert [type(result) for result in ramp.pour(0.6, SPEECH) + ramp.pour(1.0, QUIET)] == [
        SpeechStarted,
        UtteranceHeard,
    ]


def test_speech_before_a_prompt_does_not_make_its_end_into_speech() -> None:
    """5 dB above the room is enough to go on speaking and too little to begin (4 and 7 dB)."""
    ramp = Ramp()

    def tone(dbfs: float, seconds: float) -> Level:
        """A steady 1 kHz at this level; the last block's level."""
        for _ in range(round(seconds * RATE / COUNT)):
            wave = 10 ** (dbfs / 20) * np.sin(2 * np.pi * 1000 * np.arange(COUNT) / RATE)
            (level,) = ramp.listener.hear(Block(wave.astype(np.float32), ramp.now))
            ramp.now += COUNT / RATE
        assert isinstance(level, Level)
        return level

    assert not tone(-60, 3.0).is_speech
    assert tone(-20, 0.3).is_speech
    assert tone(-55, 0.06).is_speech
    ramp.listener.playback_started()
    assert not tone(-20, 0.3).is_speech
    ramp.listener.playback_ended(ramp.now)
    assert not tone(-60, 0.15).is_speech
    assert not tone(-55, 0.06).is_speech
