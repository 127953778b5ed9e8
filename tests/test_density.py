"""Density from freezing to 130 °C: its range, its shape, its expansion, specific gravity.

What the shape is held to is what is known of these liquids: they shrink on mixing, less so as
they warm; they expand, the more the warmer; nothing jumps or bends where a formula changes.
"""

import math

import numpy as np
import pytest

from coolcalc import fluids
from coolcalc.errors import OutOfRangeError
from coolcalc.fluids.density import water_volume_m3_kg

from .published import ROWS

ZERO = 273.15
NAMES = ("ethylene glycol", "propylene glycol", "glycerol")
each_fluid = pytest.mark.parametrize("fluid", NAMES)
FRACS = np.linspace(0.02, 0.98, 49)


def density(fluid, frac, temp_c):
    """Return the density on the whole range of the formula, liquid there or not."""
    return fluids.density_kg_m3_unchecked(fluid, frac, np.asarray(temp_c, dtype=float) + ZERO)


def contraction(fluid, frac, temp_c):
    """Return by how much a mix is smaller than its parts. [%]."""
    apart = frac / density(fluid, 1.0, temp_c) + (1 - frac) / density(fluid, 0.0, temp_c)
    return 100 * (density(fluid, frac, temp_c) * apart - 1)


def expansion(fluid, frac, temp_c, step=0.5):
    """Return the thermal expansion coefficient. [1/K]."""
    warm, cold = (density(fluid, frac, temp_c + sign * step) for sign in (1, -1))
    return np.log(cold / warm) / (2 * step)


# Range


@each_fluid
def test_whole_range_is_answered_and_one_step_beyond_is_refused(fluid):
    for frac in np.linspace(0, 1, 21):
        low = fluids.covered_from_k(fluid, float(frac))
        assert 213.15 <= low <= ZERO
        assert fluids.density_kg_m3(fluid, float(frac), low) > 900
        assert fluids.density_kg_m3(fluid, float(frac), 403.15) > 900
        with pytest.raises(OutOfRangeError, match="temperature = "):
            fluids.density_kg_m3(fluid, float(frac), low - 1e-4)
        with pytest.raises(OutOfRangeError, match=r"temperature = 403\.151 K is outside"):
            fluids.density_kg_m3(fluid, float(frac), 403.151)


def test_strong_mixes_are_answered_below_zero():
    # from where freeze_bound_k says that they are surely liquid
    assert fluids.density_kg_m3("ethylene glycol", 0.95, ZERO - 10) > 1120
    assert fluids.density_kg_m3("propylene glycol", 1.0, ZERO - 40) > 1080
    # strong glycerol could hold crystals up to 18 °C, but does not form them
    assert fluids.density_kg_m3("glycerol", 1.0, ZERO) == pytest.approx(1273, abs=3)


def test_bad_element_is_named_among_hot_and_cold():
    temps = np.full(1000, 300.0)
    temps[617] = math.nan
    with pytest.raises(OutOfRangeError, match=r"temperature \(element 617\) = nan"):
        fluids.density_kg_m3("ethylene glycol", 0.5, temps)
    temps[617] = 230.0  # 50 mass % freezes at -36 °C
    with pytest.raises(OutOfRangeError, match=r"temperature \(element 617\) = 230 K is outside 23"):
        fluids.density_kg_m3("ethylene glycol", 0.5, temps)
    assert fluids.density_kg_m3("ethylene glycol", np.array([]), 300.0).shape == (0,)


# Shape


@each_fluid
def test_mixing_shrinks_and_less_so_as_it_warms(fluid):
    """George and Sastry at 25 and 35 °C: less at 35 °C at every strength from 3 mass %."""
    temps = np.arange(-20.0, 131.0, 5.0)
    grid = contraction(fluid, FRACS[:, None], temps)
    assert grid.min() > 0.03
    warming = grid[:, (temps >= 0) & (temps <= 40)]
    assert np.diff(warming, axis=1).max() < 0.005
    # Hotter, and weaker than 30 mass %, Melinder's polynomial regains a little; above 100 °C,
    # where nothing is measured, that is drawn on.
    assert (grid[:, temps == 100] - grid[:, temps == 40]).max() < 0.20
    assert (grid[:, -1:] - grid[:, temps == 40]).max() < 0.40
    assert np.all(grid[FRACS > 0.5, -1] < grid[FRACS > 0.5][:, temps == 0].ravel())


@each_fluid
def test_expansion_is_positive_and_rises_smoothly(fluid):
    temps = np.arange(-60.0, 130.0, 5.0)
    for frac in np.linspace(0.05, 1.0, 20):
        warm = temps[temps + ZERO >= fluids.covered_from_k(fluid, float(frac))]
        curve = expansion(fluid, frac, warm)
        # The weakest keeps a little of water's maximum near 4 °C.
        assert curve[warm >= (10 if frac < 0.1 else -60)].min() > 0, frac
        # Rising; strong propylene glycol and glycerol are flat to 0.5e-4 below 0 °C.
        assert np.diff(curve[warm >= 0]).min() > 0, frac
        assert curve[0] - curve.min() < 0.5e-4, frac
        # No waves: from one step to the next the rise changes by little, and only in weak mixes.
        assert np.abs(np.diff(curve, 2)).max() < (0.025e-4 if frac > 0.55 else 0.12e-4), frac


@each_fluid
@pytest.mark.parametrize("at_c", [0.0, 40.0, 100.0])
def test_no_seam_in_temperature(fluid, at_c):
    for frac in (0.0, 0.2, 0.5, 0.8, 1.0):
        below, here, above = (density(fluid, frac, at_c + step) for step in (-1e-3, 0.0, 1e-3))
        assert above - here == pytest.approx(here - below, abs=1e-6)  # no kink: kg/m3 in 1 mK
        bends = [expansion(fluid, frac, at_c + step, 0.1) for step in (-0.6, -0.4, 0.4, 0.6)]
        assert bends[3] - bends[2] == pytest.approx(bends[1] - bends[0], abs=3e-7)


@each_fluid
@pytest.mark.parametrize("temp_c", [0.0, 20.0, 100.0, 130.0])
def test_no_seam_in_strength(fluid, temp_c):
    for frac in (0.3, 0.5, 0.6, 0.7):
        below, here, above = (density(fluid, frac + step, temp_c) for step in (-1e-5, 0.0, 1e-5))
        assert above - here == pytest.approx(here - below, abs=1e-6)


@pytest.mark.parametrize("fluid", ["ethylene glycol", "glycerol"])
@pytest.mark.parametrize("temp_c", range(0, 131, 10))
def test_more_glycol_is_denser(fluid, temp_c):
    assert np.diff(density(fluid, np.linspace(0, 1, 501), temp_c)).min() > 0


@pytest.mark.parametrize("temp_c", range(0, 131, 10))
def test_propylene_glycol_has_one_densest_strength(temp_c):
    frac = np.linspace(0, 1, 1001)
    curve = density("propylene glycol", frac, temp_c)
    assert np.count_nonzero(np.diff(np.sign(np.diff(curve)))) == 1
    # 0.70 to 0.75 where it is measured; flatter, and so less sure, as it warms.
    assert (0.65 if temp_c <= 100 else 0.50) < frac[np.argmax(curve)] < 0.78


@each_fluid
def test_cold_strong_mixes_stay_sane(fluid):
    for frac in np.linspace(0.6, 1.0, 9):
        low = fluids.covered_from_k(fluid, float(frac)) - ZERO
        assert (
            3e-4 < np.log(density(fluid, frac, low) / density(fluid, frac, 20)) / (20 - low) < 8e-4
        )


# Expansion


def published(fluid, concentration, temp_c, source):
    (value,) = (
        float(row["value"])
        for row in ROWS
        if (row["property"], row["fluid"], row["source"]) == ("density", fluid, source)
        and (float(row["concentration"]), float(row["temp_c"])) == (concentration, temp_c)
    )
    return value


@pytest.mark.parametrize(
    ("fluid", "source", "low", "high"),
    [
        # 20 to 100 °C at 50 volume %; tables and formulas spread from 4.9 to 5.4 %
        ("ethylene glycol", "perry-8", 4.85, 5.45),
        # from 5.9 to 6.6 %
        ("propylene glycol", "eisenbach-2021", 5.9, 6.6),
    ],
)
def test_hot_expansion_lies_among_the_tables_and_above_that_of_the_parts(fluid, source, low, high):
    frac = fluids.frac_mass_from_frac_vol(fluid, 0.5)
    cold, hot = density(fluid, frac, [20.0, 100.0])
    assert low < 100 * (cold / hot - 1) < high
    # 100 to 120 °C, from the rows of the two pure liquids: the parts alone, then up to a fifth
    # more, since the contraction fades.
    water = [published("water", 0, t, "iapws-95") for t in (100, 120)]
    glycol = [published(fluid, 100, t, source) for t in (100, 120)]
    parts = [frac / g + (1 - frac) / w for g, w in zip(glycol, water, strict=True)]
    alone = parts[1] / parts[0] - 1
    hot, hotter = density(fluid, frac, [100.0, 120.0])
    assert 0.97 * alone < hot / hotter - 1 < 1.2 * alone


# Specific gravity


@each_fluid
def test_specific_gravity_is_over_water_at_the_reference(fluid):
    assert pytest.approx(273.15 + (60 - 32) / 1.8, abs=1e-9) == fluids.REFERENCE_60_F_K
    rho = fluids.density_kg_m3(fluid, 0.4, 293.15)
    by_60_f = fluids.specific_gravity(fluid, 0.4, 293.15)
    by_20_c = fluids.specific_gravity(fluid, 0.4, 293.15, fluids.REFERENCE_20_C_K)
    # IAPWS-95: water is 999.02 kg/m3 at 60 °F and 998.21 at 20 °C
    assert (by_60_f, by_20_c) == pytest.approx((rho / 999.02, rho / 998.21), rel=2e-5)
    assert type(by_60_f) is float
    assert fluids.specific_gravity(fluid, 0.0, 293.15, 293.15) == pytest.approx(1.0, rel=1e-15)
    many = fluids.specific_gravity(fluid, np.array([0.1, 0.4]), 293.15)
    assert many[1] == pytest.approx(by_60_f, rel=1e-15)
    assert fluids.specific_gravity_unchecked(fluid, 0.4, 293.15) == pytest.approx(
        by_60_f, rel=1e-15
    )


def test_specific_gravity_refuses():
    with pytest.raises(OutOfRangeError, match=r"reference temperature = 60 K is outside 273\.15"):
        fluids.specific_gravity("glycerol", 0.4, 293.15, 60.0)
    with pytest.raises(OutOfRangeError, match=r"^temperature = 500 K"):
        fluids.specific_gravity("glycerol", 0.4, 500.0)


def test_water_is_continued_below_zero_without_a_kink():
    below, here, above = (water_volume_m3_kg(ZERO + step) for step in (-0.01, 0.0, 0.01))
    assert above - here == pytest.approx(here - below, rel=0.05)
