"""Temperature derating."""

from dataclasses import replace

import numpy as np
import pytest

from runner.airplane.minutes.temperature import temperature_share
from runner.airplane.model.airplane import Airplane


@pytest.mark.parametrize(
    ("fahrenheit", "share"),
    [(25, 0.66), (50, 0.84), (77, 1.0), (40, 1 / 1.30), (60, 1 / 1.11), (52.5, 1 / 1.17)],
)
def test_lead_acid_without_a_table_follows_ieee_485(tarn: Airplane, fahrenheit: float, share: float) -> None:
    """IEEE Std 485 Table 1 (row values from memory): 1/factor, linear between rows; 50 F 0.84, 25 F 0.66."""
    celsius = np.array([(fahrenheit - 32) / 1.8])
    assert temperature_share(tarn.battery, celsius)[0] == pytest.approx(share, abs=0.003)


def test_warmth_never_counts_for_more_than_the_rating(tarn: Airplane) -> None:
    """The standard's factor of 0.85 at 125 F would promise 118 %."""
    assert temperature_share(tarn.battery, np.array([30.0, 51.7, 80.0])).tolist() == [1.0, 1.0, 1.0]


def test_the_maker_s_table_comes_before_the_standard(merlow: Airplane) -> None:
    """Rows as written, linear between them, and straight on below the coldest, never under nothing."""
    shares = temperature_share(merlow.battery, np.array([23.0, 0.0, 11.5, -18.0, -40.0, -200.0]))
    assert shares[:4] == pytest.approx([1.0, 0.92, 0.96, 0.75])
    assert shares[4] == pytest.approx(0.60 - 10 * 0.15 / 12)
    assert shares[5] == 0.0


def test_a_table_of_one_row_is_level(merlow: Airplane) -> None:
    """A single figure is taken for every temperature."""
    battery = replace(merlow.battery, temperature_shares=((23.0, 0.9),))
    assert temperature_share(battery, np.array([-20.0, 23.0, 40.0])).tolist() == [0.9, 0.9, 0.9]
