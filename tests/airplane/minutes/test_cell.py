"""Cells against published tables and PyBaMM's models."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from runner.airplane.minutes.cell import full_ohms, ohms, open_volts
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.source import Battery, Chemistry

POINTS = np.linspace(0.05, 0.9, 18)
"""Shares of the discharge at which shapes are compared: the first moment and the last plunge are left out."""


@pytest.fixture(scope="module")
def pybamm() -> Any:
    """The battery models of the PyBaMM project, which are told not to report their use."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("PYBAMM_DISABLE_TELEMETRY", "true")
        return pytest.importorskip("pybamm")


@pytest.fixture
def battery_of(small: Airplane) -> Callable[[Chemistry, int], Battery]:
    """A 30 Ah battery of a chemistry, which ends its rated discharge where its maker would."""
    ends = {Chemistry.LEAD_ACID: 1.667, Chemistry.NICKEL_CADMIUM: 1.0, Chemistry.LITHIUM_IRON: 2.5}
    return lambda chemistry, cells: replace(
        small.battery, chemistry=chemistry, cells=cells, end_volts=ends[chemistry] * cells
    )


def loaded(battery: Battery, spent: np.ndarray, share_of_rate: float) -> np.ndarray:
    """Volts of one cell under a current, by the share of charge already spent."""
    amps = battery.ampere_hours * share_of_rate
    volts = [open_volts(battery, 1 - each) - amps * ohms(battery, 1 - each, 25.0) for each in spent]
    return np.array(volts) / battery.cells


@pytest.mark.parametrize(
    ("percent", "volts"), [(100, 12.65), (75, 12.45), (50, 12.24), (25, 12.06), (0, 11.89)]
)
def test_a_lead_acid_battery_rests_at_the_volts_of_the_bci_table(
    battery_of: Callable[[Chemistry, int], Battery], percent: float, volts: float
) -> None:
    """BCI, as cited at studylib.net/doc/18054160: six cells at 80 F."""
    assert open_volts(battery_of(Chemistry.LEAD_ACID, 6), percent / 100) == pytest.approx(volts, abs=0.006)


def test_a_nickel_cadmium_cell_is_flat_about_1_28_volts(
    battery_of: Callable[[Chemistry, int], Battery],
) -> None:
    """From memory, as STANDARDS 3.6 has it: its open volts do not tell its charge."""
    cell = battery_of(Chemistry.NICKEL_CADMIUM, 1)
    assert open_volts(cell, 0.9) == pytest.approx(1.28, abs=0.03)
    assert open_volts(cell, 0.9) - open_volts(cell, 0.3) < 0.06


@pytest.mark.parametrize("chemistry", Chemistry)
def test_the_rated_current_ends_at_end_volts(
    battery_of: Callable[[Chemistry, int], Battery], chemistry: Chemistry
) -> None:
    """That is what the label says: the last ampere-hour at the rated current leaves `end_volts`."""
    battery = battery_of(chemistry, 10)
    left = open_volts(battery, 0.0) - battery.ampere_hours * ohms(battery, 0.0, 25.0)
    assert left == pytest.approx(battery.end_volts)


def test_resistance_grows_as_charge_and_warmth_go(
    battery_of: Callable[[Chemistry, int], Battery],
) -> None:
    """From the full battery's on, in either direction; none at all for an ideal battery."""
    battery = battery_of(Chemistry.LEAD_ACID, 12)
    assert ohms(battery, 1.0, 25.0) == pytest.approx(full_ohms(battery))
    by_charge = [ohms(battery, each, 25.0) for each in (1.0, 0.8, 0.5, 0.2, 0.0)]
    assert by_charge == sorted(by_charge)
    assert ohms(battery, 1.0, -18.0) > 1.3 * ohms(battery, 1.0, 25.0)
    assert ohms(replace(battery, milliohms=0.0), 0.2, -18.0) == 0
    assert full_ohms(replace(battery, milliohms=11.0)) == pytest.approx(0.011)


def shape(volts: np.ndarray) -> np.ndarray:
    """From 1 at the first point to 0 at the last."""
    fallen: np.ndarray = (volts - volts[-1]) / (volts[0] - volts[-1])
    return fallen


def test_a_lead_acid_discharge_has_the_shape_of_pybamms(
    pybamm: Any, battery_of: Callable[[Chemistry, int], Battery]
) -> None:
    """LOQS with the parameters of Sulzer et al. 2019 at C/2: within a tenth of the fall."""
    parameters = pybamm.ParameterValues("Sulzer2019")
    simulation = pybamm.Simulation(pybamm.lead_acid.LOQS(), parameter_values=parameters, C_rate=0.5)
    found = simulation.solve([0, 3600 * 2.6])
    hours, volts = found["Time [h]"].entries, found["Battery voltage [V]"].entries
    reference = np.interp(POINTS * hours[-1], hours, volts)
    ours = loaded(battery_of(Chemistry.LEAD_ACID, 6), POINTS, 0.5)
    assert np.abs(shape(ours) - shape(reference)).max() < 0.10


def test_a_lithium_discharge_has_the_shape_of_pybamms(
    pybamm: Any, battery_of: Callable[[Chemistry, int], Battery]
) -> None:
    """SPM with the parameters of Prada et al. 2013 at C/2: within 60 mV a cell."""
    parameters = pybamm.ParameterValues("Prada2013")
    simulation = pybamm.Simulation(pybamm.lithium_ion.SPM(), parameter_values=parameters, C_rate=0.5)
    found = simulation.solve([0, 3600 * 2.2])
    hours, volts = found["Time [h]"].entries, found["Terminal voltage [V]"].entries
    spent = np.linspace(0.05, 0.75, 15)
    reference = np.interp(spent * hours[-1], hours, volts)
    ours = loaded(battery_of(Chemistry.LITHIUM_IRON, 1), spent, 0.5)
    assert np.abs(ours - reference).max() < 0.06
