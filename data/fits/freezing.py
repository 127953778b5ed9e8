"""Freezing: 273.15 - T = w (k + c1 w + c2 w2 + ...), k from the law of dilute solutions."""

import numpy as np

from .density import glycol_volume, water_volume
from .rows import CRYOSCOPIC, FLUIDS, MOLAR_MASS, frac_mass, numbers, pick, solve, weights

PROPERTY = "freezing"
UNIT, SCALE = "K", 1.0

FREEZE_MAX = 0.60  # mass fraction up to which the curve is used
FREEZE_TERMS = {"ethylene glycol": 3, "propylene glycol": 3, "glycerol": 3}
START_TERMS = 9  # of the polynomial that starts the inverse


def fit_freezing(rows, fluid, glycol_20):
    """Return coefficients of the freezing curve and of the start of its inverse, and residuals."""
    here = pick(rows, "freezing_point", fluid)
    w = np.array([frac_mass(row, glycol_20, 1 / water_volume(20.0)) for row in here])
    depression = -numbers(here, "value")
    slope = CRYOSCOPIC * 1000 / MOLAR_MASS[fluid]
    columns = np.stack([w**i for i in range(2, 2 + FREEZE_TERMS[fluid])], axis=1)
    rest = solve(columns, depression - slope * w, weights(here))
    curve = (slope, *rest.tolist())
    model = w * slope + columns @ rest

    # w / d as a polynomial in d, d = depression over its value at the end of the curve
    nodes = 0.5 - 0.5 * np.cos(np.linspace(0, np.pi, 401))
    grid = FREEZE_MAX * nodes
    depth = sum(c * grid ** (i + 1) for i, c in enumerate(curve))
    if np.any(np.diff(depth) <= 0):
        raise ValueError(f"the freezing curve of {fluid} is not monotone")
    d = depth[1:] / depth[-1]
    start = np.polynomial.chebyshev.Chebyshev.fit(d, grid[1:] / d, START_TERMS - 1, domain=(0, 1))
    start = start.convert(kind=np.polynomial.Polynomial).coef
    coefficients = {
        "freeze": curve,
        "freeze_end": float(depth[-1]),
        "freeze_start": tuple(start.tolist()),
    }
    return coefficients, [
        (r, float(d - m)) for r, m, d in zip(here, model, depression, strict=True)
    ]


def fit(rows, found):
    """Return coefficients by fluid, constants, and residuals by fluid."""
    parts = {
        fluid: fit_freezing(rows, fluid, 1 / glycol_volume(found[fluid], 20.0)) for fluid in FLUIDS
    }
    return (
        {fluid: part[0] for fluid, part in parts.items()},
        {},
        {fluid: part[1] for fluid, part in parts.items()},
    )
