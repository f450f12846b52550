"""Which clips are heard in which noise."""

import numpy as np

from tests.bench.ear.engine import Share
from tests.bench.ear.sound_set import Clip
from tests.bench.ear.weather import KINDS, Condition, Weather

TONE = np.asarray(8000 * np.sin(np.arange(16_000) * 0.3), np.int16)
CLIP = Clip("words", TONE, frozenset({"yes"}), ("yes",))


def test_engine_propeller_and_wind_share_a_row_unless_asked() -> None:
    """Babble and recorded engines always have their own."""
    rows = [Condition(kind, 5).row(by_kind=False) for kind in (*KINDS, "recorded engine")]
    assert rows == ["5 dB noise", "5 dB noise", "5 dB noise", "5 dB babble", "5 dB recorded engine"]
    assert Condition("wind", 5).row(by_kind=True) == "5 dB wind"
    assert Condition("quiet").row(by_kind=True) == "quiet"


def test_a_clip_hears_one_kind_of_noise_and_recorded_engines_where_there_are_any() -> None:
    """By its number; recorded engines at 10 and 5 dB."""
    levels = (None, 20, 5)
    plain = list(Weather([TONE]).conditions(2, levels))
    assert plain == [Condition("quiet"), Condition("wind", 20), Condition("wind", 5)]
    recorded = set(Weather([TONE], [TONE]).conditions(2, levels)) - set(plain)
    assert recorded == {Condition("recorded engine", 5)}


def test_the_same_clip_number_and_noise_give_the_same_sound() -> None:
    """So that every ear, in every process, hears the same."""
    weather = Weather([TONE], [TONE[:3000]])
    for kind in (*KINDS, "recorded engine"):
        one, two = (weather.sound(CLIP, 7, Condition(kind, 5)) for _ in range(2))
        assert np.array_equal(one, two)
        assert not np.array_equal(one, weather.sound(CLIP, 8, Condition(kind, 5)))


def test_noise_has_the_power_that_its_level_says() -> None:
    """10 dB below a steady tone: a tenth of its power, within what a quarter second of lead allows."""
    weather = Weather([TONE])
    heard = weather.sound(CLIP, 1, Condition("propeller", 10))
    quiet = weather.sound(CLIP, 1, Condition("quiet"))
    scale = float(heard @ quiet / (quiet @ quiet))
    rest = heard - scale * quiet
    speech_power = float(np.mean((scale * quiet[4000:20_000]) ** 2))
    assert 7 < 10 * np.log10(speech_power / float(np.mean(rest**2))) < 13


def test_a_share_keeps_all_four_kinds_of_noise() -> None:
    """Every third group of four; every second where many phrases are in force."""
    share = Share(3, 2)
    assert [n for n in range(16) if share.takes(n, 20)] == [0, 1, 2, 3, 12, 13, 14, 15]
    assert [n for n in range(16) if share.takes(n, 5000)] == [0, 1, 2, 3, 8, 9, 10, 11]
