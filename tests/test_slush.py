"""What a mix turns to below its freezing point: the lever rule, from published rows."""

import csv

import numpy as np
import pytest

from coolcalc import fluids
from coolcalc.balance.slush import slush
from coolcalc.jobs.burst_table import BURST, burst_row

from .published import DATA

with (DATA / "published" / "freezing.csv").open(encoding="utf-8", newline="") as file:
    CRC = [
        (row["fluid"], float(row["concentration"]) / 100.0, 273.15 + float(row["value"]))
        for row in csv.DictReader(file)
        if row["source"] == "crc-concentrative" and row["basis"] == "mass %"
    ]


@pytest.mark.parametrize(("fluid", "frac_mass", "temp_k"), [row for row in CRC if row[1] >= 0.2])
def test_half_the_strength_of_a_printed_mix_is_half_ice_at_its_freezing_point(
    fluid, frac_mass, temp_k
):
    """By hand: the liquid has the printed strength, so ice = 1 − (half of it) / it."""
    assert float(slush(fluid, frac_mass / 2, temp_k).ice) == pytest.approx(0.5, abs=0.035)


def test_water_grows_by_nine_per_cent():
    """0.99984 to 0.9168 g/cm3: encyclopaedias, source key iapws-06 for the ice."""
    frozen = slush("ethylene glycol", 0.0, 272.0)
    assert float(frozen.ice) == 1.0
    assert float(frozen.growth) == pytest.approx(0.99984 / 0.9167 - 1.0, abs=1e-3)


def test_nothing_freezes_above_the_freezing_point():
    fracs = np.array([0.1, 0.3, 0.5])
    first = fluids.freeze_temp_k("propylene glycol", fracs)
    found = slush("propylene glycol", fracs, first + 0.01)
    assert found.ice == pytest.approx(0.0)
    assert found.growth == pytest.approx(0.0, abs=1e-4)


def test_ice_grows_as_it_gets_colder_and_is_not_told_beyond_the_curve():
    temps = np.linspace(-20.0, -45.0, 26) + 273.15
    found = slush("ethylene glycol", np.full(26, 0.3), temps)
    assert np.all(np.diff(found.ice) > 0.0)
    assert np.all(np.diff(found.growth) > 0.0)
    assert np.isnan(slush("ethylene glycol", 0.3, 273.15 - 70.0).ice)


def test_rows_are_as_alone():
    fracs, temps = np.array([0.2, 0.4]), np.array([255.0, 245.0])
    together = slush("ethylene glycol", fracs, temps)
    for at in range(2):
        alone = slush("ethylene glycol", float(fracs[at]), float(temps[at]))
        assert float(alone.ice) == pytest.approx(together.ice[at], rel=1e-12)


def test_the_burst_table_takes_the_row_or_the_next_colder_one():
    row = burst_row("ethylene glycol", 273.15 - 30.0)
    assert (row.temp_f, row.freeze, row.burst) == (-30, 50, 31)
    assert burst_row("ethylene glycol", 273.15 - 60.0) is None
    assert burst_row("glycerol", 273.15 - 10.0) is None
    for rows in BURST.values():
        assert all(row.burst < row.freeze for row in rows)
