"""The watchdog, with made-up times."""

from runner.voice.card.watchdog import Watchdog


def test_a_microphone_that_delivers_is_there() -> None:
    """A block within the limit keeps it alive."""
    watchdog = Watchdog(100.0).after_block(101.0).after_time(102.0)
    assert not watchdog.is_lost


def test_silence_of_the_device_for_the_limit_is_loss() -> None:
    """From the last block, or from the opening when none ever came."""
    assert Watchdog(100.0).after_time(101.5).is_lost
    assert Watchdog(100.0).after_block(101.0).after_time(102.5).is_lost
    assert not Watchdog(100.0).after_block(101.0).after_time(102.4).is_lost


def test_one_block_brings_it_back() -> None:
    """Lost until a block comes, and only then."""
    lost = Watchdog(100.0).after_time(102.0)
    assert lost.after_time(101.0).is_lost
    assert not lost.after_block(102.1).is_lost


def test_a_late_block_does_not_turn_time_back() -> None:
    """An older block does not make the newest look older."""
    assert Watchdog(100.0).after_block(105.0).after_block(104.0).last_at == 105.0
