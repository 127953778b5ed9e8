"""Fit the coefficients of coolcalc.fluids to the published rows, and write them as a module.

    python data/fit_coefficients.py            prints the residuals of each source
    python data/fit_coefficients.py --write    writes coolcalc/fluids/_coefficients.py too

NumPy only. `load` drops every row whose role is not "fit" before anything else sees it, so a
check row cannot reach a fit. Weights are one over the row's tolerance; see `weights`.
"""

import csv
import hashlib
import pathlib
import sys

import numpy as np

HERE = pathlib.Path(__file__).resolve().parent
ROWS = HERE / "published.csv"
MODULE = HERE.parent / "coolcalc" / "fluids" / "_coefficients.py"

FLUIDS = ("ethylene glycol", "propylene glycol", "glycerol")
MOLAR_MASS = {"ethylene glycol": 62.068, "propylene glycol": 76.095, "glycerol": 92.094}
WATER_MOLAR_MASS = 18.01528
CRYOSCOPIC = 1.86  # K kg/mol, water
FREEZE_MAX = 0.60  # mass fraction up to which the curve is used
LIGHT = 1 / 3  # weight of the rows that `weights` names
AIR_INDEX = 1.000272  # of air at 20 °C and 1 atm, sodium light: turns vacuum into air values

FREEZE_TERMS = {"ethylene glycol": 3, "propylene glycol": 3, "glycerol": 3}
START_TERMS = 9  # of the polynomial that starts the inverse
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
INDEX_TERMS = {"ethylene glycol": 3, "propylene glycol": 4, "glycerol": 4}
#: Terms of the drift with temperature, e and f; none is fitted where all rows are at 20 °C.
DRIFT_TERMS = {"ethylene glycol": 0, "propylene glycol": 2, "glycerol": 1}


def load(path=ROWS):
    """Return the rows that may be fitted, as dicts of text."""
    with path.open(encoding="utf-8", newline="") as file:
        return [row for row in csv.DictReader(file) if row["role"] == "fit"]


def fingerprint(path=ROWS):
    """Return the sha256 of the rows that may be fitted (a new check row changes nothing)."""
    text = "\n".join("|".join(row.values()) for row in load(path))
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def pick(rows, prop, fluid):
    """Return the rows of one property of one fluid."""
    return [row for row in rows if row["property"] == prop and row["fluid"] == fluid]


def numbers(rows, column):
    """Return a column as an array of floats."""
    return np.array([float(row[column]) for row in rows])


def weights(rows):
    """Return one over the tolerance; a third of it where a row is less than a measurement.

    That is: formulas evaluated (density), which stand in where no table does; and the ASHRAE
    propylene glycol freezing points, printed to 0.1 K but for an inhibited fluid.
    """
    light = np.array(
        [
            row["source"] == "ashrae-2001" or (row["kind"], row["unit"]) == ("computed", "kg/m3")
            for row in rows
        ]
    )
    return np.where(light, LIGHT, 1.0) / numbers(rows, "tolerance")


def frac_mass(row, glycol_at_20, water_at_20):
    """Return the row's mass fraction of glycol, from its own basis."""
    value = float(row["concentration"])
    if row["basis"] == "mass %":
        return value / 100
    if row["basis"] == "mole fraction":
        glycol = value * MOLAR_MASS[row["fluid"]]
        return glycol / (glycol + (1 - value) * WATER_MOLAR_MASS)
    if row["basis"] == "volume % before mixing":
        glycol = value / 100 * glycol_at_20
        return glycol / (glycol + (1 - value / 100) * water_at_20)
    raise ValueError(f"no mass fraction from basis {row['basis']!r}")


def solve(columns, values, weight):
    """Return weighted least-squares coefficients."""
    return np.linalg.lstsq(columns * weight[:, None], values * weight, rcond=None)[0]


# Density: v = w vg(T) + (1 - w) vw(T) + w (1 - w) P(w, T), specific volumes, m3/kg


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


def powers(x, terms):
    """Return columns 1, x, x2, ..."""
    return np.stack([x**i for i in range(terms)], axis=1)


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


# Freezing: 273.15 - T = w (k + c1 w + c2 w2 + ...), k from the law of dilute solutions


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


# Refraction: n = nw(T) + w (a + b w + ...) + w (T - 20) (e + f w)


def fit_water_index(rows):
    """Return the refractive index of water in air, powers of the temperature in °C over 100."""
    here = pick(rows, "refractive_index_vacuum", "water")
    columns = powers(numbers(here, "temp_c") / 100, 5)
    return tuple(solve(columns, numbers(here, "value") / AIR_INDEX, weights(here)).tolist())


def fit_index(rows, fluid, water_index, density):
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
        drift = lorentz_lorenz_drift(w, value, water_index, density)
    columns = np.concatenate([w[:, None] * powers(w, n_frac), warm[:, :n_drift]], axis=1)
    terms = solve(columns, value - water - warm @ drift, weight)
    rise = terms[:n_frac]
    drift[:n_drift] = terms[n_frac:]
    model = water + w * (powers(w, n_frac) @ rise) + warm @ drift
    coefficients = {"index_rise": tuple(rise.tolist()), "index_warm": tuple(drift.tolist())}
    return coefficients, [(row, float(m - v)) for row, m, v in zip(here, model, value, strict=True)]


def lorentz_lorenz_drift(w, value, water_index, density):
    """Return e and f from the density: (n2 - 1)/(n2 + 2) over the density stays as at 20 °C.

    The same law is off by a little for water alone, so the drift is taken against the drift it
    gives water, and vanishes with the glycol.
    """

    def moved(n, frac, temp_c):
        held = (n**2 - 1) / (n**2 + 2) * density(frac, temp_c) / density(frac, 20.0)
        return np.sqrt((1 + 2 * held) / (1 - held))

    pure_water = powers(np.array([0.2]), 5) @ np.array(water_index)
    columns, values = [], []
    for temp_c in (10.0, 30.0, 40.0):
        drift = moved(value, w, temp_c) - value
        drift = drift - (moved(pure_water, np.zeros(1), temp_c) - pure_water)
        columns.append(np.stack([w * (temp_c - 20), w * w * (temp_c - 20)], axis=1))
        values.append(drift)
    return solve(np.concatenate(columns), np.concatenate(values), np.ones(3 * w.size))


def fit(rows):
    """Return all coefficients by fluid, water's index, and residuals by property and fluid."""
    water_index = fit_water_index(rows)
    coefficients, residuals = {}, {}
    for fluid in FLUIDS:
        density, residuals["density", fluid] = fit_density(rows, fluid)
        glycol = np.array(density["glycol_volume"])
        glycol_20 = 1 / (powers(scaled([20.0]), len(glycol)) @ glycol)[0]

        def mix_density(w, temp_c, fluid=fluid, density=density, glycol=glycol):
            temp = np.full(w.shape, temp_c)
            excess = np.concatenate(density["excess_volume"])
            ideal = w * (powers(scaled(temp), len(glycol)) @ glycol)
            ideal = ideal + (1 - w) * water_volume(temp)
            return 1 / (ideal + excess_columns(w, temp, EXCESS_TERMS[fluid]) @ excess)

        freeze, residuals["freezing", fluid] = fit_freezing(rows, fluid, glycol_20)
        index, residuals["refraction", fluid] = fit_index(rows, fluid, water_index, mix_density)
        coefficients[fluid] = {**freeze, **density, **index}
    return coefficients, water_index, residuals


def residual_table(residuals):
    """Return lines: property, fluid, source, rows, mean and largest model minus row."""
    lines = []
    for (prop, fluid), pairs in residuals.items():
        for source in dict.fromkeys(row["source"] for row, _ in pairs):
            off = np.array([r for row, r in pairs if row["source"] == source])
            unit = {"freezing": "K", "density": "kg/m3", "refraction": "1e-4"}[prop]
            off = off * 1e4 if prop == "refraction" else off
            lines.append(
                f"{prop:10s} {fluid:16s} {source:17s} {off.size:3d} rows  mean {off.mean():+6.2f}"
                f"  rms {np.sqrt((off**2).mean()):5.2f}  max {np.abs(off).max():5.2f}  {unit}"
            )
    return lines


def literal(value, indent):
    """Return a value as Python source, one level of nesting a line."""
    if isinstance(value, tuple) and isinstance(value[0], tuple):
        inner = "".join(f"{indent}    {part!r},\n" for part in value)
        return f"(\n{inner}{indent})"
    return repr(value)


def module_text(coefficients, water_index, residuals):
    """Return the source of the generated module."""
    lines = [
        '"""Coefficients of the property formulas. Generated; do not edit.',
        "",
        "Made by data/fit_coefficients.py from the fit rows of data/published.csv,",
        f"sha256 {fingerprint()}.",
        "Model minus row, fit rows only:",
        "",
        *(line.rstrip() for line in residual_table(residuals)),
        '"""',
        "",
        "from typing import Any",
        "",
        f"WATER_INDEX = {water_index!r}",
        f"KELL_TOP = {KELL_TOP!r}",
        f"KELL_BOTTOM = {KELL_BOTTOM!r}",
        f"KELL_SLOPE = {KELL_SLOPE!r}",
        f"KELL_CURVE = {KELL_CURVE!r}",
        "",
        "COEFFICIENTS: dict[str, dict[str, Any]] = {",
    ]
    for fluid, parts in coefficients.items():
        lines.append(f'    "{fluid}": {{')
        for name, value in parts.items():
            lines.append(f'        "{name}": {literal(value, "        ")},')
        lines.append("    },")
    return "\n".join([*lines, "}", ""])


def main(arguments):
    """Fit, print the residuals, and write the module when asked."""
    result = fit(load())
    print("\n".join(residual_table(result[2])))
    if "--write" in arguments:
        MODULE.write_text(module_text(*result), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main(sys.argv[1:])
