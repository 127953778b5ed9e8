"""Refraction: n = nw(T) + w (a + b w + ...) + w (e0 + e1 w + ...) s + w (g0 + ...) s2, s = T - 20.

And the sugar scale: n = nw(20) + b (c0 + c1 b + ...), b the mass fraction of sucrose.
"""

import numpy as np

from . import density
from .rows import FLUIDS, numbers, pick, powers, solve, weights

PROPERTY = "refraction"
UNIT, SCALE = "1e-4", 1e4

AIR_INDEX = 1.000272  # of air at 20 °C and 1 atm, sodium light: turns vacuum into air values
INDEX_TERMS = {"ethylene glycol": 3, "propylene glycol": 4, "glycerol": 4}
DRIFT_TERMS = 3  # powers of w in each of e and g
SUCROSE_TERMS = 6
START_TERMS = 6  # of the polynomials that start the inverses
#: Where the drift is laid down: mass fractions, and temperatures in °C.
DRIFT_W, DRIFT_TEMPS = np.linspace(0.0, 1.0, 21), np.arange(0.0, 61.0, 5.0)


def fit_water_index(rows):
    """Return the refractive index of water in air, powers of the temperature in °C over 100."""
    here = pick(rows, "refractive_index_vacuum", "water")
    columns = powers(numbers(here, "temp_c") / 100, 5)
    return tuple(solve(columns, numbers(here, "value") / AIR_INDEX, weights(here)).tolist())


def water_at(water_index, temp_c):
    """Return the index of water at temperatures in °C."""
    return powers(np.atleast_1d(temp_c) / 100, 5) @ np.array(water_index)


def lorentz_lorenz_drift(index_20, w, temp_c, mix_density):
    """Return how far the index moves from 20 °C if (n2 - 1)/(n2 + 2) over the density stays."""
    held = (index_20**2 - 1) / (index_20**2 + 2)
    held = held * mix_density(w, temp_c) / mix_density(w, np.full(w.shape, 20.0))
    return np.sqrt((1 + 2 * held) / (1 - held)) - index_20


def law_beyond_water(rise, w, temp_c, water_20, mix_density):
    """Return the law's drift of a mix less its drift of plain water; 0 at w = 0 and at 20 °C."""
    index_20 = water_20 + w * (powers(w, len(rise)) @ rise)
    none = np.zeros(w.shape)
    mix = lorentz_lorenz_drift(index_20, w, temp_c, mix_density)
    return mix - lorentz_lorenz_drift(np.full(w.shape, water_20), none, temp_c, mix_density)


def alike(rows):
    """Return weights that let every lineage count alike, however many rows it has."""
    lineages = [row["lineage"] for row in rows]
    return weights(rows) / np.sqrt([lineages.count(each) for each in lineages])


def fit_rise(here, fluid, water_index, mix_density, share):
    """Return the rise at 20 °C and the share of the law's drift with temperature that is meant.

    The law overstates the drift. A `share` of None is found from the rows, in which case each
    should be of a lineage that has several temperatures: another one's offset is no drift.
    """
    w, temp = numbers(here, "concentration") / 100, numbers(here, "temp_c")
    over_water = numbers(here, "value") - water_at(water_index, temp)
    columns, weight = w[:, None] * powers(w, INDEX_TERMS[fluid]), alike(here)
    law = np.zeros(w.size)
    for _ in range(3):  # the law needs the index at 20 °C, which needs the law
        if share is None:
            terms = solve(np.column_stack([columns, law]), over_water, weight)
            rise, found = terms[:-1], float(terms[-1])
        else:
            rise, found = solve(columns, over_water - share * law, weight), share
        law = law_beyond_water(rise, w, temp, water_at(water_index, 20.0)[0], mix_density)
    return rise, found


def of_several_temperatures(rows):
    """Return the rows of the lineages that measured at more than one temperature."""
    temps = {}
    for row in rows:
        temps.setdefault(row["lineage"], set()).add(row["temp_c"])
    return [row for row in rows if len(temps[row["lineage"]]) > 1]


def fit_drift(rise, share, water_20, mix_density):
    """Return e and g as powers of w, fitted to the share of the law's drift from 0 to 60 °C."""
    w, temp = (part.ravel() for part in np.meshgrid(DRIFT_W, DRIFT_TEMPS))
    law = share * law_beyond_water(rise, w, temp, water_20, mix_density)
    shape, warm = w[:, None] * powers(w, DRIFT_TERMS), (temp - 20.0)[:, None]
    terms = solve(np.concatenate([shape * warm, shape * warm**2], axis=1), law, np.ones(w.size))
    return terms[:DRIFT_TERMS], terms[DRIFT_TERMS:]


def fit_start(rise):
    """Return w as powers of u times u: the start of the inverse, u the rise over its end."""
    w = (0.5 - 0.5 * np.cos(np.linspace(0, np.pi, 201)))[1:]
    u = w * (powers(w, len(rise)) @ rise) / np.sum(rise)
    if np.any(np.diff(u) <= 0):
        raise ValueError("the refractive index is not monotone")
    start = np.polynomial.chebyshev.Chebyshev.fit(u, w / u, START_TERMS - 1, domain=(0, 1))
    return tuple(start.convert(kind=np.polynomial.Polynomial).coef.tolist())


def fit_index(rows, fluid, water_index, mix_density, share):
    """Return coefficients of the rise above water's index, residuals, and the share found."""
    here = pick(rows, "refractive_index", fluid)
    water_20 = water_at(water_index, 20.0)[0]
    if share is None:
        several = of_several_temperatures(here)
        _, share = fit_rise(several, fluid, water_index, mix_density, None)
    rise, _ = fit_rise(here, fluid, water_index, mix_density, share)
    warm, curve = fit_drift(rise, share, water_20, mix_density)
    w, temp = numbers(here, "concentration") / 100, numbers(here, "temp_c")
    drift = w * (powers(w, DRIFT_TERMS) @ warm) * (temp - 20)
    drift += w * (powers(w, DRIFT_TERMS) @ curve) * (temp - 20) ** 2
    model = water_at(water_index, temp) + w * (powers(w, len(rise)) @ rise) + drift
    coefficients = {
        "index_rise": tuple(rise.tolist()),
        "index_drift": (tuple(warm.tolist()), tuple(curve.tolist())),
        "index_start": fit_start(rise),
    }
    off = model - numbers(here, "value")
    return coefficients, list(zip(here, off.tolist(), strict=True)), share


def fit_sucrose(rows, water_20):
    """Return the rise of the sugar scale in powers of the mass fraction, and residuals."""
    here = pick(rows, "refractive_index_sucrose", "sucrose")
    b, value = numbers(here, "concentration") / 100, numbers(here, "value")
    columns = b[:, None] * powers(b, SUCROSE_TERMS)
    rise = solve(columns, value - water_20, weights(here))
    off = water_20 + columns @ rise - value
    return tuple(rise.tolist()), list(zip(here, off.tolist(), strict=True))


def fit(rows, found):
    """Return coefficients by fluid, constants, and residuals by fluid."""
    water_index = fit_water_index(rows)
    coefficients, residuals, shares = {}, {}, {}
    # Ethylene glycol last: all its rows are at 20 °C, so it takes the mean share of the others.
    for fluid in sorted(FLUIDS, key=lambda name: name == "ethylene glycol"):

        def mix_density(w, temp_c, fluid=fluid):
            parts = np.broadcast_arrays(w, temp_c)
            return np.array(
                [
                    density.evaluate(found[fluid], np.array([a]), t)[0]
                    for a, t in zip(*parts, strict=True)
                ]
            )

        alone = fluid == "ethylene glycol"
        share = float(np.mean(list(shares.values()))) if alone else None
        coefficients[fluid], residuals[fluid], shares[fluid] = fit_index(
            rows, fluid, water_index, mix_density, share
        )
    rise, residuals["sucrose"] = fit_sucrose(rows, water_at(water_index, 20.0)[0])
    constants = {
        "WATER_INDEX": water_index,
        "SUCROSE_RISE": rise,
        "SUCROSE_START": fit_start(np.array(rise) * 0.84 ** np.arange(1, SUCROSE_TERMS + 1)),
    }
    return coefficients, constants, residuals
