"""Freezing: ice in a liquid of unlike molecules, and crystals of the glycol in the same.

Both sides are one law: the activity that a crystal allows at a temperature is the activity in
its liquid. Ice: heat of melting from the cryoscopic constant, so that the slope at no glycol is
that of the law of dilute solutions. Activities: Flory and Huggins, with the ratio of molar
volumes as the ratio of sizes, or 1 (a regular solution), and a polynomial chi. Where an anchored
polynomial without that law is nearer to tables that it has not seen, it is taken: `FORMS`.

What is written is a polynomial through that curve, to a millikelvin:

    water side    273.15 - T = w (k + c1 w + ...),        w from 0 to FREEZE_MAX
    glycol side   melting point - T = y (k + c1 y + ...), y = 1 - w, w from MELT_FROM to 1
"""

from typing import NamedTuple

import numpy as np

from . import density
from .rows import (
    CRYOSCOPIC,
    FLUIDS,
    GAS_CONSTANT,
    MOLAR_MASS,
    WATER_MOLAR_MASS,
    numbers,
    pick,
    solve,
    weights,
)
from .rows import frac_mass as frac_mass_of_basis

PROPERTY = "freezing"
UNIT, SCALE = "K", 1.0

ZERO_K = 273.15


class Crystal(NamedTuple):
    """What melts: melting point, heat of melting there, heat capacity of liquid less crystal."""

    melt_k: float
    heat_j_mol: float
    step_j_mol_k: float


#: The heat that gives the cryoscopic constant; the step is a textbook value.
ICE = Crystal(ZERO_K, GAS_CONSTANT * ZERO_K**2 * WATER_MOLAR_MASS / 1000 / CRYOSCOPIC, 38.0)

FREEZE_MAX = 0.60  # mass fraction up to which the water side is used
#: Mass fraction from which the glycol side is used. Ethylene glycol: the laboratories dispute 58
#: to 80 mass % (bowles-sae). Glycerol: the eutectic, 66.7 %, and the first published row above.
MELT_FROM = {"ethylene glycol": 0.80, "glycerol": 0.70}
CURVE_TERMS = {"water": 8, "glycol": 6}
CURVE_ERROR_K = 1e-3
START_TERMS = 9  # of the polynomial that starts the inverse


class Form(NamedTuple):
    """A form of the water side, and how many terms of it are fitted.

    Shares "by volume" or "by number" (of molecules): terms of chi. "polynomial": no law but the
    slope at no glycol; terms of w^2, w^3, ...
    """

    kind: str
    terms: int


#: The forms with the least error on a lineage left out; see ``left_out.py --forms``.
FORMS = {
    "ethylene glycol": Form("polynomial", 3),
    "propylene glycol": Form("by number", 1),
    "glycerol": Form("by volume", 1),
}

LANGE_BASIS = "volume % of the mix at 15.6 C"


def frac_mass(row, coefficients):
    """Return a row's mass fraction; `coefficients` are those of the density."""
    glycol_20 = 1 / density.glycol_volume(coefficients, 20.0)
    if row["basis"] != LANGE_BASIS:
        return frac_mass_of_basis(row, glycol_20, 1 / density.water_volume(20.0))
    glycol = float(row["concentration"]) / 100 / density.glycol_volume(coefficients, 15.6)
    found = np.array([0.5])
    for _ in range(50):  # glycol in a cubic metre over the mass of a cubic metre of the mix
        found = glycol / density.evaluate(coefficients, found, 15.6)
    return float(found[0])


def step_term(crystal, temp_k):
    """Return what a heat capacity step of the gas constant adds to ln of the activity. [-]."""
    ratio = crystal.melt_k / temp_k
    return ratio - 1 - np.log(ratio)


def activity_log(crystal, temp_k):
    """Return ln of the activity of the liquid beside its crystals. [-]."""
    heat = -crystal.heat_j_mol * (1 / temp_k - 1 / crystal.melt_k)
    return (heat + crystal.step_j_mol_k * step_term(crystal, temp_k)) / GAS_CONSTANT


def activity_log_slope(crystal, temp_k):
    """Return the derivative of `activity_log` by temperature. [1/K]."""
    heat = crystal.heat_j_mol - crystal.step_j_mol_k * (crystal.melt_k - temp_k)
    return heat / (GAS_CONSTANT * temp_k**2)


def crystal_temp_k(crystal, wanted_log):
    """Return the temperature at which crystals have an activity, given as its ln. [K]."""
    temp = np.full(np.shape(wanted_log), crystal.melt_k)
    for _ in range(30):
        step = (wanted_log - activity_log(crystal, temp)) / activity_log_slope(crystal, temp)
        temp = temp + step
    return temp


def size_ratio(fluid, form, coefficients):
    """Return the size of a glycol molecule over that of water: molar volumes at 20 C, or 1."""
    if form.kind == "by number":
        return 1.0
    glycol = MOLAR_MASS[fluid] * density.glycol_volume(coefficients, 20.0)
    return float(glycol / (WATER_MOLAR_MASS * density.water_volume(20.0)))


def glycol_share(frac, fluid, ratio):
    """Return the share of the glycol, by size. [-]."""
    glycol = ratio * frac / MOLAR_MASS[fluid]
    return glycol / (glycol + (1 - frac) / WATER_MOLAR_MASS)


def water_activity_log(frac, fluid, ratio, chi):
    """Return ln of the activity of water; chi = chi0 + chi1 share + ... [-]."""
    share = glycol_share(frac, fluid, ratio)
    rest = sum(c * share ** (i + 2) for i, c in enumerate(chi))
    return np.log1p(-share) + (1 - 1 / ratio) * share + rest


def fit_water_side(here, fluid, coefficients, form):
    """Return the size ratio and the terms of chi, least squares in kelvin over fit rows."""
    frac = np.array([frac_mass(row, coefficients) for row in here])
    temp = ZERO_K + numbers(here, "value")
    ratio = size_ratio(fluid, form, coefficients)
    missing = activity_log(ICE, temp) - water_activity_log(frac, fluid, ratio, ())
    weight = weights(here) / activity_log_slope(ICE, temp)
    share = glycol_share(frac, fluid, ratio)
    columns = np.stack([share ** (i + 2) for i in range(form.terms)], axis=1)
    return ratio, tuple(solve(columns, missing, weight).tolist())


def fit_polynomial(here, fluid, coefficients, form):
    """Return the depression of a polynomial anchored at no glycol, a function. [K]."""
    frac = np.array([frac_mass(row, coefficients) for row in here])
    slope = CRYOSCOPIC * 1000 / MOLAR_MASS[fluid]
    columns = np.stack([frac ** (i + 2) for i in range(form.terms)], axis=1)
    rest = solve(columns, -numbers(here, "value") - slope * frac, weights(here))
    return lambda frac: evaluate((slope, *rest.tolist()), frac)


def glycol_activity_log(frac, fluid, ratio, chi):
    """Return ln of the activity of the glycol for a chi of one term or none. [-].

    It follows from the activity of water by the law of Gibbs and Duhem.
    """
    water = 1 - glycol_share(frac, fluid, ratio)
    return np.log1p(-water) + (1 - ratio) * water + ratio * sum(chi) * water**2


def fit_glycol_side(rows, here, fluid, coefficients):
    """Return the crystal, the size ratio and chi of the glycol side.

    Melting point and heat of melting are published. With published rows of mixes, the liquid is
    that of the water side, and the heat capacity step is fitted to them; with none, the liquid
    is ideal and the step is left out.
    """
    (point,), (heat,) = (
        numbers(pick(rows, prop, fluid), "value") for prop in ("melting_point", "heat_of_fusion")
    )
    crystal = Crystal(ZERO_K + float(point), 1000 * float(heat), 0.0)
    if not here:
        return crystal, 1.0, ()
    water_rows = on_side(rows, fluid, coefficients, water=True)
    ratio, chi = fit_water_side(water_rows, fluid, coefficients, FORMS[fluid])
    frac = np.array([frac_mass(row, coefficients) for row in here])
    temp = ZERO_K + numbers(here, "value")
    missing = glycol_activity_log(frac, fluid, ratio, chi) - activity_log(crystal, temp)
    weight = weights(here) / activity_log_slope(crystal, temp)
    column = step_term(crystal, temp) / GAS_CONSTANT
    step = np.sum(column * missing * weight**2) / np.sum((column * weight) ** 2)
    return crystal._replace(step_j_mol_k=float(step)), ratio, chi


def polynomial(fluid, depression, slope, end, terms):
    """Return the written curve: coefficients, depression at the end, start of the inverse.

    `depression` takes the share of the other liquid, 0 to `end`, and returns kelvin.
    """
    nodes = end * (0.5 - 0.5 * np.cos(np.linspace(0, np.pi, 401)))[1:]
    depth = depression(nodes)
    rest = np.polynomial.chebyshev.Chebyshev.fit(
        nodes, (depth / nodes - slope) / nodes, terms - 2, domain=(0, end), w=nodes**2
    ).convert(kind=np.polynomial.Polynomial)
    curve = (float(slope), *rest.coef.tolist())
    written = evaluate(curve, nodes)
    if np.max(np.abs(written - depth)) > CURVE_ERROR_K:
        raise ValueError(
            f"the curve of {fluid} is not met: {np.max(np.abs(written - depth)):.2g} K"
        )
    if np.any(np.diff(written) <= 0):
        raise ValueError(f"the freezing curve of {fluid} is not monotone")
    # share / d as a polynomial in d, d = depression over its value at the end of the curve
    scaled = written / written[-1]
    start = np.polynomial.chebyshev.Chebyshev.fit(
        scaled, nodes / scaled, START_TERMS - 1, domain=(0, 1)
    ).convert(kind=np.polynomial.Polynomial)
    return curve, float(written[-1]), tuple(start.coef.tolist())


def evaluate(curve, share):
    """Return the depression of a written curve. [K]."""
    return share * np.polyval(curve[::-1], share)


def on_side(rows, fluid, coefficients, *, water):
    """Return the freezing points of the water side, or those of the glycol side."""
    return [
        row
        for row in pick(rows, "freezing_point", fluid)
        if (frac_mass(row, coefficients) <= FREEZE_MAX) == water
    ]


def water_curve(rows, fluid, coefficients, form):
    """Return the fitted depression of the water side, a function of the mass fraction. [K]."""
    here = on_side(rows, fluid, coefficients, water=True)
    if form.kind == "polynomial":
        return fit_polynomial(here, fluid, coefficients, form)
    ratio, chi = fit_water_side(here, fluid, coefficients, form)
    return lambda frac: ZERO_K - crystal_temp_k(ICE, water_activity_log(frac, fluid, ratio, chi))


def water_side(rows, fluid, coefficients):
    """Return the written coefficients of the water side."""
    form = FORMS[fluid]
    depression = water_curve(rows, fluid, coefficients, form)
    slope = CRYOSCOPIC * 1000 / MOLAR_MASS[fluid]
    terms = 1 + form.terms if form.kind == "polynomial" else CURVE_TERMS["water"]
    curve, end, start = polynomial(fluid, depression, slope, FREEZE_MAX, terms)
    return {"freeze": curve, "freeze_end": end, "freeze_start": start}


def glycol_side(rows, fluid, coefficients):
    """Return the written coefficients of the glycol side; nothing where there is none."""
    if fluid not in MELT_FROM:
        # No fraction reaches 2: the rest is never used.
        return dict.fromkeys(("melt_k", "melt_end"), 0.0) | {
            "melt_from": 2.0,
            "melt": (0.0,),
            "melt_start": (0.0,),
        }
    here = on_side(rows, fluid, coefficients, water=False)
    crystal, ratio, chi = fit_glycol_side(rows, here, fluid, coefficients)

    def depression(water):
        activity = glycol_activity_log(1 - water, fluid, ratio, chi)
        return crystal.melt_k - crystal_temp_k(crystal, activity)

    slope = GAS_CONSTANT * crystal.melt_k**2 / crystal.heat_j_mol
    slope *= MOLAR_MASS[fluid] / WATER_MOLAR_MASS
    end = 1 - MELT_FROM[fluid]
    curve, depth, start = polynomial(fluid, depression, slope, end, CURVE_TERMS["glycol"])
    return {
        "melt_from": MELT_FROM[fluid],
        "melt_k": crystal.melt_k,
        "melt": curve,
        "melt_end": depth,
        "melt_start": start,
    }


def freezing_point_c(parts, frac):
    """Return the written curve at a mass fraction, on the side that it belongs to. [C]."""
    if frac <= FREEZE_MAX:
        return -evaluate(parts["freeze"], frac)
    return parts["melt_k"] - ZERO_K - evaluate(parts["melt"], 1 - frac)


def fit(rows, found):
    """Return coefficients by fluid, constants, and residuals by fluid."""
    coefficients, residuals = {}, {}
    for fluid in FLUIDS:
        parts = water_side(rows, fluid, found[fluid])
        parts.update(glycol_side(rows, fluid, found[fluid]))
        coefficients[fluid] = parts
        residuals[fluid] = [
            (row, freezing_point_c(parts, frac_mass(row, found[fluid])) - float(row["value"]))
            for row in pick(rows, "freezing_point", fluid)
        ]
    return coefficients, {}, residuals
