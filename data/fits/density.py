"""Density: v = w vg(T) + (1 - w)2 vw(T) + w (1 - w) x(w, T), specific volumes, m3/kg.

Water's own curve, with its density maximum at 4 °C, enters with the square of water's share: it
is a thing of water among water, and dies out among glycol. What glycol and water share, x, is then
the volume of a plain liquid (water's hot side, drawn straight on) plus an excess that is small and
smooth from freezing to 130 °C, so that few terms do: with them, pure ethylene glycol, water and
one table at 20 °C foretell Melinder's whole polynomial, from -45 to 100 °C, to 1.2 kg/m3 rms.

The frame and the few terms were chosen on fit rows, by the error of leaving a lineage out. So was
the stiffness in part: for propylene glycol that error is least near 0.06, for ethylene glycol it
says nothing below 0.3, and 0.08 is about the most that keeps Melinder's whole polynomial within
its tolerance; all are held alike. The dilute rows of George and Sastry (below 0.1 mole fraction)
are kept from the fit: they are 1 to 1.6 kg/m3 denser than four other lineages, which agree.
"""

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

#: Powers of temperature for (1 - 2w)^0, (1 - 2w)^1, ... of the excess.
EXCESS_TERMS = {
    "ethylene glycol": (3, 3, 2, 1),
    "propylene glycol": (3, 3, 2, 1),
    "glycerol": (4, 2, 2, 1),
}
GLYCOL_TERMS = {"ethylene glycol": 4, "propylene glycol": 4, "glycerol": 3}

#: What a coefficient of 1e-5 m3/kg pays, in tolerances, for each unit of its order, which is the
#: power j of the temperature times the larger of i, the power of 1 - 2w, and j - 1.
STIFFNESS = {"ethylene glycol": 0.08, "propylene glycol": 0.1, "glycerol": 0.08}

#: The rows of one table at one temperature share its errors: they count as no more than these.
ROWS_TOGETHER = 6

#: No measured mix of glycerol was found above 40 °C. There its excess is taken to fade as that of
#: ethylene glycol does at the same mass fraction, within TIE_TOLERANCE kg/m3.
TIE_TEMPS_C, TIE_FRACS, TIE_TOLERANCE = (80.0, 130.0), (0.2, 0.4, 0.6, 0.8), 12.0


def water_volume(temp_c):
    """Return the specific volume of water, m3/kg: Kell 1975, from 0 °C down its own parabola.

    Water below 0 °C is not a thing the mixes are checked against: the parabola only keeps the
    sum smooth, in value, slope and curvature.
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


def plain_water():
    """Return the parabola through water at 70, 100 and 130 °C, in powers of the scaled temp."""
    temps = np.array([70.0, 100.0, 130.0])
    return np.linalg.solve(powers(scaled(temps), 3), water_volume(temps))


def density_rows(rows, fluid):
    """Return the rows of a fluid, their densities, and the tolerances that belong to them."""
    here = pick(rows, "density", fluid) + pick(rows, "specific_gravity", fluid)
    rho, weight = numbers(here, "value"), weights(here)
    together = [(row["lineage"], row["temp_c"]) for row in here]
    for i, row in enumerate(here):
        if row["property"] == "specific_gravity":
            reference = 1 / water_volume(20.0 if "20/20" in row["where"] else 15.5556)
            rho[i] *= reference
            weight[i] /= reference
        weight[i] *= min(1.0, (ROWS_TOGETHER / together.count(together[i])) ** 0.5)
    return here, rho, weight


def fit_density(rows, fluid, like=None):
    """Return coefficients of the glycol's volume and of the shared volume, and residuals.

    `like` is an `evaluate`-ready set of coefficients whose excess `TIE_TEMPS_C` is tied to.
    """
    here, rho, weight = density_rows(rows, fluid)
    temp = numbers(here, "temp_c")
    pure = np.array(
        [row["basis"] == "mass %" and float(row["concentration"]) == 100 for row in here]
    )
    terms = min(GLYCOL_TERMS[fluid], np.unique(temp[pure]).size)
    glycol = solve(
        powers(scaled(temp[pure]), terms) * rho[pure, None],
        np.ones(pure.sum()),
        weight[pure] * rho[pure],
    )
    glycol_20 = 1 / (powers(scaled([20.0]), len(glycol)) @ glycol)[0]
    w = np.array([frac_mass(row, glycol_20, 1 / water_volume(20.0)) for row in here])

    terms = EXCESS_TERMS[fluid]
    mix = ~pure
    rest = volume_without_excess(w, temp, glycol)
    order = np.array([j * max(i, j - 1) for i, count in enumerate(terms) for j in range(count)])
    parts = [
        (excess_columns(w, temp, terms)[mix], (1 / rho - rest)[mix], (weight * rho**2)[mix]),
        (np.diag(order), np.zeros(order.size), np.full(order.size, STIFFNESS[fluid] / 1e-5)),
        *([] if like is None else [tie_rows(like, terms)]),
    ]
    excess = solve(*(np.concatenate(part) for part in zip(*parts, strict=True)))
    cross = np.split(excess, np.cumsum(terms)[:-1])
    cross[0] = np.polynomial.polynomial.polyadd(cross[0], plain_water())
    coefficients = {
        "glycol_volume": tuple(glycol.tolist()),
        "cross_volume": tuple(tuple(part.tolist()) for part in cross),
    }
    model = evaluate(coefficients, w, temp)
    return coefficients, [(row, float(m - r)) for row, m, r in zip(here, model, rho, strict=True)]


def tie_rows(like, terms):
    """Return columns, values and weights: the excess fades from 20 °C on as that of `like`."""
    frac, hot = (part.ravel() for part in np.meshgrid(TIE_FRACS, TIE_TEMPS_C))
    cool = np.full(frac.shape, 20.0)
    kept = excess_volume(like, frac, hot) / excess_volume(like, frac, cool)
    columns = excess_columns(frac, hot, terms) - kept[:, None] * excess_columns(frac, cool, terms)
    return columns, np.zeros(frac.size), 1000.0**2 / np.full(frac.size, TIE_TOLERANCE)


def excess_columns(w, temp_c, terms):
    """Return w (1 - w) (1 - 2w)^i s^j, i slowest, `terms[i]` powers of s for each."""
    tau = scaled(temp_c)
    return np.stack(
        [
            w * (1 - w) * (1 - 2 * w) ** i * tau**j
            for i, count in enumerate(terms)
            for j in range(count)
        ],
        axis=-1,
    )


def volume_without_excess(w, temp_c, glycol):
    """Return w vg + (1 - w)2 vw + w (1 - w) times plain water. [m3/kg]."""
    tau = scaled(temp_c)
    plain = np.polyval(plain_water()[::-1], tau)
    water = (1 - w) * water_volume(temp_c)
    return w * np.polyval(glycol[::-1], tau) + (1 - w) * (water + w * plain)


def excess_volume(coefficients, w, temp_c):
    """Return the volume above `volume_without_excess`. [m3/kg]."""
    glycol = np.array(coefficients["glycol_volume"])
    return 1 / evaluate(coefficients, w, temp_c) - volume_without_excess(w, temp_c, glycol)


def glycol_volume(coefficients, temp_c):
    """Return the fitted specific volume of the pure glycol. [m3/kg]."""
    return np.polyval(coefficients["glycol_volume"][::-1], scaled(temp_c))


def evaluate(coefficients, frac, temp_c):
    """Return the fitted density at mass fractions and temperatures. [kg/m3]."""
    frac, temp = np.broadcast_arrays(frac, np.asarray(temp_c, dtype=float))
    cross = np.concatenate(coefficients["cross_volume"])
    counts = [len(part) for part in coefficients["cross_volume"]]
    water = (1 - frac) ** 2 * water_volume(temp)
    glycol = frac * glycol_volume(coefficients, temp)
    return 1 / (glycol + water + excess_columns(frac, temp, counts) @ cross)


def fit(rows, found):
    """Return coefficients by fluid, constants, and residuals by fluid."""
    parts = {}
    for fluid in FLUIDS:
        like = parts["ethylene glycol"][0] if fluid == "glycerol" else None
        parts[fluid] = fit_density(rows, fluid, like)
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
