"""The outside air by altitude, against printed tables."""

import csv

import numpy as np
import pytest

from coolcalc import fluids
from coolcalc.balance.atmosphere import EARTH_RADIUS_M, air_pressure_pa
from coolcalc.sources import SOURCES

from .published import DATA

FOOT = 0.3048
UNITS = {"Pa": 1.0, "psi absolute": 6894.757, "inch of mercury": 3386.389}

with (DATA / "system_checks.csv").open(encoding="utf-8", newline="") as file:
    ROWS = {row["id"]: row for row in csv.DictReader(file) if row["property"] == "air_pressure"}


def height_m(given):
    """Return the geometric height of a row. [m]."""
    number, unit = given.replace(",", "").split()[:2]
    height = float(number) * {"m": 1.0, "ft": FOOT}[unit]
    if "geopotential" in given:
        height *= EARTH_RADIUS_M / (EARTH_RADIUS_M - height)
    return height


@pytest.mark.parametrize("name", ROWS)
def test_printed_rows(name):
    row = ROWS[name]
    assert row["source"] in SOURCES and row["kind"] == "published"
    found = air_pressure_pa(height_m(row["given"])) / UNITS[row["unit"]]
    assert found == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))


def test_there_are_rows():
    assert len(ROWS) >= 50


def test_water_boils_as_hikers_are_told():
    """5,000 ft 203 °F, 10,000 ft 194 °F, to the whole degree: published for travellers."""
    for feet, fahrenheit in ((0, 212), (5000, 203), (10000, 194)):
        boils = fluids.boil_temp_k("ethylene glycol", 0.0, air_pressure_pa(feet * FOOT))
        assert (boils - 273.15) * 1.8 + 32 == pytest.approx(fahrenheit, abs=0.6)


def test_arrays_are_as_single_heights():
    heights = np.array([-400.0, 0.0, 1234.0, 5999.0])
    single = [air_pressure_pa(float(each)) for each in heights]
    np.testing.assert_allclose(air_pressure_pa(heights), single, rtol=1e-15)
    assert np.all(np.diff(air_pressure_pa(np.linspace(-500, 6000, 200))) < 0)
