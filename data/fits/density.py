"""Density: v = w vg(T) + (1 - w) vw(T) + w (1 - w) P(w, T), specific volumes, m3/kg."""

import numpy as np

from .rows import FLUIDS, frac_mass, numbers, pick, powers, solve, weights

PROPERTY = "density"
UNIT, SCALE = "kg/m3", 1.0

#: Kell 1975, kg/m3 and °C: (a + b t + ...) / (1 + r t).
KELL_TOP = (
    *(999.83952, 16.945176, -7.9870401e-3),
    *(-46.170461e-6, 105.56302e-9, -280.54253e-12),
)
KELL_BOTTOM = 16.879850e-3

#: Powers of temperature for w^0, w^1, ...: fewer at high powers of w, where rows are few.
EXCESS_TERMS = {
    "ethylene glycol": (4, 4, 3),
    "propylene glycol": (5, 5, 5, 2),
    "glycerol": (3, 3, 2, 1),
}
GLYCOL_TERMS = {"ethylene glycol": 4, "propylene glycol": 4, "glycerol": 3}


def water_volume(temp_c):
    """Return the specific volume of water, m3/kg: Kell 1975, from 0 °C down its own parabola.

    Water below 0 °C is not a thing the mixes are checked against: the fitted excess volume
    takes up whatever the continuation leaves over, and the parabola only keeps the sum smooth.
    """
    warm, cold = np.maximum(temp_c, 0.0), np.minimum(temp_c, 0.0)
    volume = (1 + KELL_BOTTOM * warm) / np.polyval(KELL_TOP[::-1], warm)
    return volume + cold * (KELL_SLOPE + cold * KELL_CURVE)


def kell_at_zero():
    """Return slope and half the curvature of Kell's specific volume at 0 °C."""
    # (1 + r t) / (a + b t + c t2) = (1 + r t) (1/a - b/a2 t + (b2/a3 - c/a2) t2)
    a, b, c = KELL_TOP[:3]
    first, second = -b / a**2, b**2 / a**3 - c / a**2
    return first + KELL_BOTTOM / a, second + KELL_BOTTOM * first


KELL_SLOPE, KELL_CURVE = kell_at_zero()


def scaled(temp_c):
    """Return the temperature variable of the volume polynomials."""
    return (np.asarray(temp_c) - 40.0) / 60.0


def fit_density(rows, fluid):
    """Return coefficients of the glycol's volume and of the excess volume, and residuals."""
    here = pick(rows, "density", fluid) + pick(rows, "specific_gravity", fluid)
    water_20 = 1 / water_volume(20.0)
    rho = numbers(here, "value")
    tolerance_scale = np.ones(len(here))
    for i, row in enumerate(here):
        if row["property"] == "specific_gravity":
            reference = 1 / water_volume(20.0 if "20/20" in row["where"] else 15.5556)
            rho[i] *= reference
            tolerance_scale[i] = reference
    temp = numbers(here, "temp_c")
    weight = weights(here) / tolerance_scale
    pure = np.array(
        [row["basis"] == "mass %" and float(row["concentration"]) == 100 for row in here]
    )
    glycol = solve(
        powers(scaled(temp[pure]), GLYCOL_TERMS[fluid]) * rho[pure, None],
        np.ones(pure.sum()),
        weight[pure] * rho[pure],
    )
    glycol_20 = 1 / (powers(scaled([20.0]), len(glycol)) @ glycol)[0]
    w = np.array([frac_mass(row, glycol_20, water_20) for row in here])

    mix = ~pure
    ideal = w * (powers(scaled(temp), len(glycol)) @ glycol) + (1 - w) * water_volume(temp)
    columns = excess_columns(w, temp, EXCESS_TERMS[fluid])
    excess = solve(columns[mix], (1 / rho - ideal)[mix], (weight * rho**2)[mix])
    model = 1 / (ideal + columns @ excess)
    coefficients = {
        "glycol_volume": tuple(glycol.tolist()),
        "excess_volume": tuple(
            tuple(part.tolist()) for part in np.split(excess, np.cumsum(EXCESS_TERMS[fluid])[:-1])
        ),
    }
    return coefficients, [(row, float(m - r)) for row, m, r in zip(here, model, rho, strict=True)]


def excess_columns(w, temp_c, terms):
    """Return w (1 - w) w^i s^j, i slowest, `terms[i]` powers of s for each."""
    tau = scaled(temp_c)
    return np.stack(
        [w * (1 - w) * w**i * tau**j for i, count in enumerate(terms) for j in range(count)],
        axis=1,
    )


def glycol_volume(coefficients, temp_c):
    """Return the fitted specific volume of the pure glycol. [m3/kg]."""
    return np.polyval(coefficients["glycol_volume"][::-1], scaled(temp_c))


def evaluate(coefficients, frac, temp_c):
    """Return the fitted density at mass fractions and one temperature. [kg/m3]."""
    temp = np.full(frac.shape, temp_c)
    excess = np.concatenate(coefficients["excess_volume"])
    counts = [len(part) for part in coefficients["excess_volume"]]
    ideal = frac * glycol_volume(coefficients, temp) + (1 - frac) * water_volume(temp)
    return 1 / (ideal + excess_columns(frac, temp, counts) @ excess)


def fit(rows, found):
    """Return coefficients by fluid, constants, and residuals by fluid."""
    parts = {fluid: fit_density(rows, fluid) for fluid in FLUIDS}
    constants = {
        "KELL_TOP": KELL_TOP,
        "KELL_BOTTOM": KELL_BOTTOM,
        "KELL_SLOPE": KELL_SLOPE,
        "KELL_CURVE": KELL_CURVE,
    }
    return (
        {fluid: part[0] for fluid, part in parts.items()},
        constants,
        {fluid: part[1] for fluid, part in parts.items()},
    )
