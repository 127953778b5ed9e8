"""The committed coefficients are what the script makes of the fit rows, and of nothing else."""

import csv

import numpy as np
import pytest

from coolcalc import fluids
from coolcalc.fluids import _coefficients, boiling, density, freezing, refraction, transport
from coolcalc.fluids.fluid import FLUIDS, Fluid

from . import published
from .published import ROWS

NAMES = tuple(FLUIDS)


@pytest.fixture(scope="module")
def script():
    return published.script("fit_coefficients")


@pytest.fixture(scope="module")
def rebuilt(script):
    return script.fit(script.load())[0]


def grid(fluid):
    """Return every property over a grid, each in a unit of which 1e-6 is too little to matter."""
    w = np.linspace(0, 0.60, 25)
    rows = [fluids.freeze_temp_k_unchecked(fluid, w)]
    rows += [fluids.density_kg_m3_unchecked(fluid, w, t) for t in (223.15, 253.15)]
    w = np.linspace(0, 1, 25)
    rows += [fluids.density_kg_m3_unchecked(fluid, w, t) for t in (273.15, 293.15, 373.15, 403.15)]
    rows += [fluids.refractive_index_unchecked(fluid, w, t) for t in (273.15, 293.15, 333.15)]
    warm = (293.15, 343.15, 403.15)
    rows += [fluids.heat_capacity_j_kg_k_unchecked(fluid, w, t) / 1e3 for t in warm]
    rows += [fluids.conductivity_w_m_k_unchecked(fluid, w, t) for t in warm]
    rows += [np.log(fluids.viscosity_pa_s_unchecked(fluid, w, t)) for t in warm]
    temps = np.linspace(253.15, 473.15, 25)
    rows += [1e-5 * fluids.vapor_pressure_pa_unchecked(fluid, w, t) for t in temps[::8]]
    rows += [fluids.boil_temp_k_unchecked(fluid, w, p) for p in (3e4, 1e5, 4e5)]
    return np.array(rows)


@pytest.mark.parametrize("fluid", NAMES)
def test_rebuild_agrees_with_the_committed_coefficients(rebuilt, monkeypatch, fluid):
    committed = grid(fluid)
    monkeypatch.setitem(FLUIDS, fluid, Fluid(name=fluid, **rebuilt[fluid]))
    assert np.max(np.abs(grid(fluid) - committed)) < 1e-6
    temp = fluids.freeze_temp_k(fluid, 0.4)  # the start of the inverse is rebuilt too
    assert fluids.frac_mass_from_freeze_temp_k(fluid, temp) == pytest.approx(0.4, abs=1e-9)


def test_head_names_the_rows_it_was_made_from(script):
    assert script.fingerprint() in _coefficients.__doc__
    for line in script.residual_table(script.fit(script.load())[2]):
        assert " ".join(line.split()[:4]) in " ".join(_coefficients.__doc__.split())


def test_fit_never_sees_a_check_row(script, tmp_path):
    rows = script.load()
    assert {row["role"] for row in rows} == {"fit"}
    assert len(rows) < len(ROWS)
    poisoned = [{**row, "value": "12345"} if row["role"] == "check" else row for row in ROWS]
    with (tmp_path / "all.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, fieldnames=list(ROWS[0]))
        writer.writeheader()
        writer.writerows(poisoned)
    assert script.load(tmp_path) == rows
    assert script.fingerprint(tmp_path) == script.fingerprint()


#: Whose rows a property's curve was fitted to, as its docstring says it.
STATED = {
    "density": density.SOURCES,
    "freezing_point": freezing.SOURCES,
    "refractive_index": refraction.SOURCES,
    "boiling_point": boiling.SOURCES,
    "vapor_pressure": boiling.SOURCES,
    "excess_enthalpy": boiling.SOURCES,
    "water_activity": boiling.SOURCES,
    "heat_capacity": transport.HEAT_CAPACITY_SOURCES,
    "conductivity": transport.CONDUCTIVITY_SOURCES,
    "viscosity": transport.VISCOSITY_SOURCES,
}


@pytest.mark.parametrize("fluid", NAMES)
@pytest.mark.parametrize("prop", STATED)
def test_every_source_that_was_fitted_is_named(prop, fluid):
    fitted = {
        row["source"]
        for row in ROWS
        if (row["property"], row["fluid"], row["role"]) == (prop, fluid, "fit")
    }
    assert fitted <= set(STATED[prop][fluid])
