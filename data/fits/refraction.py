"""Refraction: n = nw(T) + w (a + b w + ...) + w (T - 20) (e + f w)."""

import numpy as np

from . import density
from .rows import FLUIDS, numbers, pick, powers, solve, weights

PROPERTY = "refraction"
UNIT, SCALE = "1e-4", 1e4

AIR_INDEX = 1.000272  # of air at 20 °C and 1 atm, sodium light: turns vacuum into air values
INDEX_TERMS = {"ethylene glycol": 3, "propylene glycol": 4, "glycerol": 4}
#: Terms of the drift with temperature, e and f; none is fitted where all rows are at 20 °C.
DRIFT_TERMS = {"ethylene glycol": 0, "propylene glycol": 2, "glycerol": 1}


def fit_water_index(rows):
    """Return the refractive index of water in air, powers of the temperature in °C over 100."""
    here = pick(rows, "refractive_index_vacuum", "water")
    columns = powers(numbers(here, "temp_c") / 100, 5)
    return tuple(solve(columns, numbers(here, "value") / AIR_INDEX, weights(here)).tolist())


def fit_index(rows, fluid, water_index, mix_density):
    """Return coefficients of the rise above water's index, and residuals."""
    here = pick(rows, "refractive_index", fluid)
    w, temp = numbers(here, "concentration") / 100, numbers(here, "temp_c")
    value, weight = numbers(here, "value"), weights(here)
    water = powers(temp / 100, 5) @ np.array(water_index)
    n_frac = INDEX_TERMS[fluid]
    warm = np.stack([w * (temp - 20), w * w * (temp - 20)], axis=1)
    drift = np.zeros(2)
    n_drift = DRIFT_TERMS[fluid]
    if n_drift == 0:
        drift = lorentz_lorenz_drift(w, value, water_index, mix_density)
    columns = np.concatenate([w[:, None] * powers(w, n_frac), warm[:, :n_drift]], axis=1)
    terms = solve(columns, value - water - warm @ drift, weight)
    rise = terms[:n_frac]
    drift[:n_drift] = terms[n_frac:]
    model = water + w * (powers(w, n_frac) @ rise) + warm @ drift
    coefficients = {"index_rise": tuple(rise.tolist()), "index_warm": tuple(drift.tolist())}
    return coefficients, [(row, float(m - v)) for row, m, v in zip(here, model, value, strict=True)]


def lorentz_lorenz_drift(w, value, water_index, mix_density):
    """Return e and f from the density: (n2 - 1)/(n2 + 2) over the density stays as at 20 °C.

    The same law is off by a little for water alone, so the drift is taken against the drift it
    gives water, and vanishes with the glycol.
    """

    def moved(n, frac, temp_c):
        held = (n**2 - 1) / (n**2 + 2) * mix_density(frac, temp_c) / mix_density(frac, 20.0)
        return np.sqrt((1 + 2 * held) / (1 - held))

    pure_water = powers(np.array([0.2]), 5) @ np.array(water_index)
    columns, values = [], []
    for temp_c in (10.0, 30.0, 40.0):
        drift = moved(value, w, temp_c) - value
        drift = drift - (moved(pure_water, np.zeros(1), temp_c) - pure_water)
        columns.append(np.stack([w * (temp_c - 20), w * w * (temp_c - 20)], axis=1))
        values.append(drift)
    return solve(np.concatenate(columns), np.concatenate(values), np.ones(3 * w.size))


def fit(rows, found):
    """Return coefficients by fluid, constants, and residuals by fluid."""
    water_index = fit_water_index(rows)
    coefficients, residuals = {}, {}
    for fluid in FLUIDS:

        def mix_density(frac, temp_c, fluid=fluid):
            return density.evaluate(found[fluid], frac, temp_c)

        coefficients[fluid], residuals[fluid] = fit_index(rows, fluid, water_index, mix_density)
    return coefficients, {"WATER_INDEX": water_index}, residuals
