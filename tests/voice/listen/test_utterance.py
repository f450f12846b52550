"""One utterance, followed block by block without a recogniser."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.voice.listen.endpoint import NOTE_PAUSES, PAUSES, Patience, SpeechPhase
from runner.voice.listen.utterance import PreRoll, Purpose, Utterance, begin_utterance
from runner.voice.port import RATE, Block, Guess, More

COUNT = 480
PAUSES_NOW = PAUSES[Patience.NORMAL]


def make_block(number: int) -> Block:
    """The block of that number in a stream, filled with its number."""
    return Block(np.full(COUNT, number, np.float32), number * COUNT / RATE)


def hear(utterance: Utterance, blocks: range, *, is_speech: bool) -> Utterance:
    """Some blocks of the same."""
    for number in blocks:
        utterance = utterance.after(make_block(number), is_speech=is_speech)
    return utterance


def test_it_waits_and_counts_how_long() -> None:
    """Nobody speaks: nothing has begun, and the time is known."""
    waiting = hear(begin_utterance(4, Purpose.ANSWER, PAUSES_NOW), range(10), is_speech=False)
    assert not waiting.has_begun
    assert waiting.waited == pytest.approx(10 * COUNT / RATE)
    assert waiting.turn == 4


def test_the_first_block_brings_the_pre_roll_and_the_others_come_alone() -> None:
    """What came before speech was noticed is given once, in order, with the block that began it."""
    waiting = hear(begin_utterance(1, Purpose.ANSWER, PAUSES_NOW), range(5), is_speech=False)
    begun = hear(waiting, range(5, 8), is_speech=True)
    assert begun.has_begun
    numbers = [int(block.samples[0]) for block in begun.get_new_blocks(make_block(7))]
    assert numbers == list(range(8))
    later = begun.guessed(Guess(None))
    assert [int(block.samples[0]) for block in later.get_new_blocks(make_block(8))] == [8]


def test_a_settled_one_ends_after_less_silence() -> None:
    """The recogniser's word is passed on to the endpoint."""
    begun = hear(begin_utterance(1, Purpose.ANSWER, PAUSES_NOW), range(4), is_speech=True)
    quiet = hear(begun, range(4, 4 + round(PAUSES_NOW.settled * RATE / COUNT)), is_speech=False)
    assert quiet.guessed(Guess(None)).endpoint.phase is SpeechPhase.SPEAKING
    assert quiet.guessed(Guess("set", More.NOTHING)).endpoint.phase is SpeechPhase.ENDED


def test_a_note_keeps_its_sound_in_one_piece() -> None:
    """Every sample of the kept blocks, in order; an empty note is no sound."""
    note = begin_utterance(1, Purpose.NOTE, PAUSES_NOW)
    assert len(note.get_clip()) == 0
    kept = note.kept((make_block(1), make_block(2))).kept((make_block(3),))
    assert kept.get_clip() == pytest.approx(np.repeat([1.0, 2.0, 3.0], COUNT))


def test_a_note_has_its_own_pauses() -> None:
    """Free speech gets time to think, whatever the pilot's patience with answers."""
    assert begin_utterance(1, Purpose.NOTE, PAUSES_NOW).endpoint.pauses is NOTE_PAUSES
    assert begin_utterance(1, Purpose.ANSWER, PAUSES_NOW).endpoint.pauses is PAUSES_NOW


@given(st.lists(st.integers(1, 2000), max_size=60), st.floats(0.0, 1.0))
def test_it_keeps_the_newest_blocks_and_no_more_than_it_must(lengths: list[int], seconds: float) -> None:
    """What is kept is a tail of what came, long enough, and too short without its oldest block."""
    blocks = [Block(np.zeros(length, np.float32), float(n)) for n, length in enumerate(lengths)]
    preroll = PreRoll(seconds)
    for block in blocks:
        preroll = preroll.after(block)
    kept = [block.started_at for block in preroll.blocks]
    assert kept == [float(n) for n in range(len(blocks))][len(blocks) - len(kept) :]
    total = sum(block.seconds for block in preroll.blocks)
    assert total >= min(seconds, sum(lengths) / RATE) - 1e-9
    assert sum(block.seconds for block in preroll.blocks[1:]) < seconds or len(kept) <= 1


def test_emptied_it_keeps_its_length_alone() -> None:
    """After a prompt nothing of before is left."""
    full = PreRoll(0.4).after(Block(np.zeros(480, np.float32), 0.0))
    assert full.emptied() == PreRoll(0.4)
