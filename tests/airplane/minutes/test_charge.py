"""Charge from open-circuit voltage."""

import pytest

from runner.airplane.minutes.charge import METER_VOLTS, ChargeBand, NoCharge, charge_from_volts
from runner.airplane.model.airplane import Airplane

BCI_24_VOLTS = [(25.30, 100), (24.90, 75), (24.48, 50), (24.12, 25), (23.78, 0)]
"""Battery Council International, twice the 12 V column (studylib.net/doc/18054160)."""
TABLE_B6_24_VOLTS = [
    (25.4, 100),
    (25.2, 90),
    (25.0, 80),
    (24.6, 70),
    (24.4, 60),
    (24.2, 50),
    (24.0, 40),
    (23.6, 30),
    (23.4, 20),
    (23.2, 10),
]
"""Inverter maker's manual dr2424 p. 107, at rest three hours or more, 77 F."""


@pytest.mark.parametrize(("volts", "percent"), BCI_24_VOLTS + TABLE_B6_24_VOLTS)
def test_the_band_holds_every_published_row(tarn: Airplane, volts: float, percent: float) -> None:
    """Whatever either table says for a voltage lies inside the band."""
    band = charge_from_volts(tarn.battery, volts, 8)
    assert isinstance(band, ChargeBand)
    assert band.low <= percent <= band.high


def test_the_two_tables_are_told_apart_by_a_wide_band_at_half_charge(tarn: Airplane) -> None:
    """They differ by 0.28 V at 50 %, so one voltage leaves ten percent or more open."""
    band = charge_from_volts(tarn.battery, 24.48, 8)
    assert isinstance(band, ChargeBand)
    assert band.high - band.low >= 10


@pytest.mark.parametrize("volts", [20.0, 24.0, 25.6, 28.0])
def test_nickel_cadmium_never_gets_a_charge_from_its_voltage(merlow: Airplane, volts: float) -> None:
    """The open-circuit curve is flat at about 1.28 V a cell (from memory), so no voltage counts."""
    answer = charge_from_volts(merlow.battery, volts, 24)
    assert isinstance(answer, NoCharge)
    assert "nickel-cadmium" in answer.cause


@pytest.mark.parametrize("hours", [0, 1, 2.9])
def test_an_unrested_battery_gets_no_charge(tarn: Airplane, hours: float) -> None:
    """Table B-6 holds after three hours at rest."""
    answer = charge_from_volts(tarn.battery, 25.0, hours)
    assert isinstance(answer, NoCharge)
    assert "3 h" in answer.cause


def test_the_meter_s_half_step_widens_the_band(tarn: Airplane) -> None:
    """24.2 V in tenths may be 24.15 V, by BCI 27 %, or 24.25 V, by Table B-6 52.5 %."""
    band = charge_from_volts(tarn.battery, 24.2, 8)
    assert isinstance(band, ChargeBand)
    assert band.low == pytest.approx(25 + 25 * (24.2 - METER_VOLTS - 24.12) / (24.48 - 24.12), abs=0.5)
    assert band.high == pytest.approx(52.5, abs=0.1)


@pytest.mark.parametrize("volts", [26.5, 28.0])
def test_a_charging_voltage_gives_no_charge(tarn: Airplane, volts: float) -> None:
    """BCI: a full cell rests at 2.12 to 2.15 V, so 28 V (2.33 V a cell) comes from a generator or charger."""
    answer = charge_from_volts(tarn.battery, volts, 8)
    assert isinstance(answer, NoCharge)
    assert "something charges it" in answer.cause


def test_a_flat_battery_is_empty_not_unknown(tarn: Airplane) -> None:
    """BCI: 1.75 V a cell and less is flat."""
    assert charge_from_volts(tarn.battery, 21.0, 8) == ChargeBand(0, 0)
