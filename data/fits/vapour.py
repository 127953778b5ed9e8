"""Vapour pressure: p = x_w g_w p_w(T) + x_g g_g p_g(T), with the starts of its inverse.

theta = 373.15 K / T - 1 throughout. Water is Wagner and Pruss 1993 as published. The pure glycol
is exp of a polynomial in theta. The activity coefficients come from one excess Gibbs energy,
G/RT = x_w x_g sum_j (a_j + b_j theta + c_j theta^2 + d_j theta^3) w^j, w the mass fraction. So the
heat of mixing is R (373.15 K) x_w x_g sum_j (b_j + 2 c_j theta + 3 d_j theta^2) w^j, and the excess
heat capacity -R (373.15 K / T)^2 x_w x_g sum_j (2 c_j + 6 d_j theta) w^j: heat capacities give c
and d, calorimetry then b, and boiling points, vapour pressures and the ice line the size a.

Without d the step would be for the worse: an excess heat capacity grows with temperature, and at
25 °C calorimetry stands midway in theta between the ice line and the boiling point, so that a
constant one cancels and only its growth is left (0.2 K of boiling point at 50 mass %).
"""

import numpy as np

from .rows import (
    FLUIDS,
    GAS_CONSTANT,
    MOLAR_MASS,
    WATER_MOLAR_MASS,
    mass_frac,
    mole_frac,
    numbers,
    pick,
    powers,
    solve,
)
from .transport import HEAT_CAPACITY

PROPERTY = "vapour"
UNIT, SCALE = "%", 100.0

TEMP_UNIT = 373.15  # K
ZERO_C = 273.15
ATMOSPHERE = 101325.0

#: Wagner and Pruss 1993: ln(p/pc) = (Tc/T) sum of a tau^n, n = 1, 1.5, 3, 3.5, 4, 7.5.
WATER_CRITICAL = (647.096, 22.064e6)
WATER_VAPOR = (-7.85951783, 1.84408259, -11.7866497, 22.6807411, -15.9618719, 1.80122502)
WATER_EXPONENTS = (1.0, 1.5, 3.0, 3.5, 4.0, 7.5)

GLYCOL_TERMS = {"ethylene glycol": 4, "propylene glycol": 3, "glycerol": 4}
HEAT_TERMS = 4
HEAT_TEMP = 298.15  # K, of every heat of mixing
#: Terms of c and of d each, from mixes at 0 °C and above: below, water's heat capacity is a frame.
CURVE_TERMS = 2
#: Terms of the size, and of its drift with temperature where no calorimetry tells it.
SIZE_TERMS, DRIFT_TERMS = 3, 2
#: Rows of mixes must reach above this mass fraction before the terms of the size are free.
STRONG = 0.60

#: The boiling points that start the inverse lie between these pressures.
BOIL_PRESSURES = (1.0e4, 5.0e5)  # Pa
START_TERMS = (7, 3)  # powers of ln(0.05 + mole fraction of water), and of ln(p/atmosphere)
START_SHIFT = 0.05

_STEPS = 8


def theta_of(temp_k):
    """Return the temperature variable of every polynomial here."""
    return TEMP_UNIT / temp_k - 1.0


def water_pressure(temp_k):
    """Return the vapour pressure of water, Pa."""
    critical_k, critical_pa = WATER_CRITICAL
    tau = 1.0 - temp_k / critical_k
    terms = sum(a * tau**n for a, n in zip(WATER_VAPOR, WATER_EXPONENTS, strict=True))
    return critical_pa * np.exp(critical_k / temp_k * terms)


def glycol_pressure(coefficients, temp_k):
    """Return the vapour pressure of the pure glycol, Pa."""
    return np.exp(np.polyval(coefficients[::-1], theta_of(temp_k)))


def log_columns(fluid, x, terms):
    """Return what multiplies each c_j in the logarithms of the two activity coefficients.

    From G/RT = x (1 - x) sum_j c_j w^j, x the mole and w the mass fraction of glycol.
    """
    j = np.arange(terms)
    x = np.asarray(x, dtype=float)[:, None]
    w = mass_frac(fluid, x)
    rise = j * w**j * (1 - w)  # w (1 - w) times the derivative of w^j
    return x**2 * w**j - x * rise, (1 - x) ** 2 * w**j + (1 - x) * rise


def row_mole_frac(row):
    """Return the row's mole fraction of glycol."""
    value = float(row["concentration"])
    return value if row["basis"] == "mole fraction" else mole_frac(row["fluid"], value / 100)


def pascal(row):
    """Return a row's pressure, Pa: its value, or the pressure at which it boils."""
    if row["property"] == "boiling_point":
        return 1000 * float(row["pressure"].removesuffix(" kPa"))
    return float(row["value"])


def kelvin(row):
    """Return a row's temperature, K: where it was measured, or its boiling point."""
    return float(row["value" if row["property"] == "boiling_point" else "temp_c"]) + ZERO_C


def steepness(temp_k):
    """Return by what share the vapour pressure of water rises a kelvin."""
    up, down = (water_pressure(temp_k + step) for step in (0.5, -0.5))
    return np.log(up / down)


def relative(row):
    """Return a row's tolerance as a share of the pressure."""
    if row["property"] == "boiling_point":
        return float(row["tolerance"]) * steepness(kelvin(row))
    return float(row["tolerance"]) / float(row["value"])


def fit_pure(rows, fluid):
    """Return the polynomial of the pure glycol, and residuals in shares of the pressure."""
    here = [
        row
        for row in pick(rows, "vapor_pressure", fluid) + pick(rows, "boiling_point", fluid)
        if row["concentration"] == "100"
    ]
    columns = powers(theta_of(np.array([kelvin(row) for row in here])), GLYCOL_TERMS[fluid])
    values = np.log([pascal(row) for row in here])
    weight = 1 / np.array([relative(row) for row in here])
    terms = solve(columns, values, weight)
    off = columns @ terms - values
    return tuple(terms.tolist()), list(zip(here, off.tolist(), strict=True))


def fit_curve(rows, fluid):
    """Return c and d of the excess Gibbs energy from heat capacities: two rows, or none.

    None where no heat of mixing is known, which they carry to other temperatures.
    """
    here = [
        row
        for row in pick(rows, "heat_capacity", fluid)
        if row["basis"] == "mass %" and row["concentration"] != "100" and float(row["temp_c"]) >= 0
    ]
    if not here or not pick(rows, "excess_enthalpy", fluid):
        return np.zeros((0, CURVE_TERMS))
    water = HEAT_CAPACITY.fit_water(rows)
    glycol = np.array(HEAT_CAPACITY.fit_fluid(rows, fluid, water)[0]["heat_capacity_glycol"])
    w, temp_c = numbers(here, "concentration") / 100, numbers(here, "temp_c")
    x = mole_frac(fluid, w)
    mass = (x * MOLAR_MASS[fluid] + (1 - x) * WATER_MOLAR_MASS) / 1000  # kg/mol
    excess = numbers(here, "value") - HEAT_CAPACITY.ideal(glycol, water, w, temp_c)
    size = -GAS_CONSTANT * (TEMP_UNIT / (temp_c + ZERO_C)) ** 2 * x * (1 - x)
    theta = theta_of(temp_c + ZERO_C)[:, None]
    terms = powers(w, CURVE_TERMS)
    columns = size[:, None] * np.concatenate([2 * terms, 6 * theta * terms], axis=1)
    curve = solve(columns, excess * mass, 1 / (numbers(here, "tolerance") * mass))
    return curve.reshape(2, CURVE_TERMS)


def drift_at_unit(heat, curve):
    """Return b, at 100 °C, from the heat of mixing at 25 °C."""
    theta = theta_of(HEAT_TEMP)
    drift = heat.copy()
    for power, terms in enumerate(curve, start=2):
        drift[:CURVE_TERMS] -= power * theta ** (power - 1) * terms
    return drift


def fit_heat(rows, fluid):
    """Return the heat of mixing at 25 °C over R (373.15 K) x (1 - x), and residuals."""
    here = pick(rows, "excess_enthalpy", fluid)
    if not here:
        return None, []
    x = np.array([row_mole_frac(row) for row in here])
    w = np.array([mass_frac(fluid, each) for each in x])
    size = GAS_CONSTANT * TEMP_UNIT * x * (1 - x)
    columns = size[:, None] * powers(w, HEAT_TERMS)
    value = numbers(here, "value")
    heat = solve(columns, value, 1 / numbers(here, "tolerance"))
    off = columns @ heat / value - 1
    return heat, list(zip(here, off.tolist(), strict=True))


def mix_pressures(fluid, x, temp_k, pure, size, drift, curve):
    """Return the two partial pressures, Pa."""
    theta = theta_of(temp_k)
    sides = log_columns(fluid, x, len(size))
    water, glycol = (side @ size + theta * (side @ drift) for side in sides)
    for power, terms in enumerate(curve, start=2):
        water += theta**power * (sides[0][:, :CURVE_TERMS] @ terms)
        glycol += theta**power * (sides[1][:, :CURVE_TERMS] @ terms)
    p_water = (1 - x) * np.exp(water) * water_pressure(temp_k)
    return p_water, x * np.exp(glycol) * glycol_pressure(pure, temp_k)


def mix_rows(rows, fluid):
    """Return the rows of mixes that hold a pressure: measured, boiling, or water's activity."""
    return [
        row
        for prop in ("vapor_pressure", "boiling_point", "water_activity")
        for row in pick(rows, prop, fluid)
        if row["concentration"] not in ("100", "1")
    ]


def compare(here, fluid, pure, size, drift, curve):
    """Return ln of model over row, and how it moves with each a_j and each b_j."""
    x = np.array([row_mole_frac(row) for row in here])
    temp_k = np.array([kelvin(row) for row in here])
    activity = np.array([row["property"] == "water_activity" for row in here])
    given = np.array([pascal(row) for row in here]) * np.where(activity, water_pressure(temp_k), 1)
    p_water, p_glycol = mix_pressures(fluid, x, temp_k, pure, size, drift, curve)
    p_glycol = np.where(activity, 0.0, p_glycol)
    off = np.log((p_water + p_glycol) / given)
    share = (p_water / (p_water + p_glycol))[:, None]
    water, glycol = log_columns(fluid, x, len(size))
    by_size = share * water + (1 - share) * glycol
    return off, by_size, by_size * theta_of(temp_k)[:, None]


def directions(here, heat):
    """Return what the fit of the size may move: pairs of a step in a and a step in b.

    Three terms of the size, but only one number where no row is stronger than 60 mass %: the
    size then keeps the shape of the heat of mixing. A drift that calorimetry does not tell is
    fitted where two lineages or more tell it from the size.
    """
    strong = max(mass_frac(row["fluid"], row_mole_frac(row)) for row in here) > STRONG
    terms = SIZE_TERMS if heat is None else len(heat)
    unit, zero = np.eye(terms), np.zeros(terms)
    if heat is not None and not strong:
        return [np.stack([heat, zero])]
    moves = [np.stack([row, zero]) for row in unit[: SIZE_TERMS if strong else 1]]
    if heat is None and len({row["lineage"] for row in here}) > 1:
        moves += [np.stack([zero, row]) for row in unit[:DRIFT_TERMS]]
    return moves


def fit_size(rows, fluid, pure, heat, curve):
    """Return a and b of the excess Gibbs energy, and residuals in shares of the pressure."""
    here = mix_rows(rows, fluid)
    drift_0 = np.zeros(SIZE_TERMS) if heat is None else drift_at_unit(heat, curve)
    both = np.stack([0 * drift_0, drift_0])
    if not here:
        return both[0], both[1], []
    moves = directions(here, heat)
    weight = 1 / np.array([relative(row) for row in here])
    for _ in range(_STEPS):  # Gauss and Newton: the pure glycol's share makes it bend a little
        off, by_size, by_drift = compare(here, fluid, pure, *both, curve)
        columns = np.stack([by_size @ a + by_drift @ b for a, b in moves], axis=1)
        step = solve(columns, -off, weight)
        both = both + sum(s * move for s, move in zip(step, moves, strict=True))
    off = compare(here, fluid, pure, *both, curve)[0]
    return both[0], both[1], list(zip(here, off.tolist(), strict=True))


def fit_fluid(rows, fluid):
    """Return the coefficients of one fluid, and residuals in shares of each row's value."""
    pure, off_pure = fit_pure(rows, fluid)
    heat, off_heat = fit_heat(rows, fluid)
    curve = fit_curve(rows, fluid)
    size, drift, off_mix = fit_size(rows, fluid, pure, heat, curve)
    parts = {
        "molar_mass": MOLAR_MASS[fluid],
        "glycol_vapor": pure,
        "activity": tuple(size.tolist()),
        "activity_drift": tuple(drift.tolist()),
        "activity_curve": tuple(map(tuple, curve.tolist())),
    }
    return parts, off_pure + off_heat + off_mix


def mix_of(parts):
    """Return what `mix_pressures` asks of the coefficients of a fluid."""
    activity = (np.array(parts[name]) for name in ("activity", "activity_drift", "activity_curve"))
    return parts["glycol_vapor"], *activity


def boiling_theta(fluid, parts, frac_mass, pressure):
    """Return theta at the boiling points, by bisection."""
    x = mole_frac(fluid, frac_mass)
    mix = mix_of(parts)
    hot, cold = (np.full(x.shape, theta_of(temp)) for temp in (640.0, 270.0))
    for _ in range(60):
        middle = (hot + cold) / 2
        over = sum(mix_pressures(fluid, x, TEMP_UNIT / (1 + middle), *mix)) > pressure
        hot, cold = np.where(over, middle, hot), np.where(over, cold, middle)
    return middle


def fit_start(fluid, parts):
    """Return the start of the inverse: theta in powers of two logarithms."""
    frac = (1 - np.cos(np.linspace(0, np.pi, 121))) / 2
    frac, pressure = np.meshgrid(frac, np.geomspace(*BOIL_PRESSURES, 41))
    frac, pressure = frac.ravel(), pressure.ravel()
    theta = boiling_theta(fluid, parts, frac, pressure)
    n_water, n_log = START_TERMS
    water = np.log(START_SHIFT + 1 - mole_frac(fluid, frac))
    log = powers(np.log(pressure / ATMOSPHERE), n_log)
    columns = (powers(water, n_water)[:, :, None] * log[:, None, :]).reshape(frac.size, -1)
    terms = solve(columns, theta, np.ones(theta.size))
    return tuple(map(tuple, terms.reshape(n_water, n_log).tolist()))


def fit(rows, found):
    """Return coefficients by fluid, constants, and residuals by fluid."""
    coefficients, residuals = {}, {}
    for fluid in FLUIDS:
        coefficients[fluid], residuals[fluid] = fit_fluid(rows, fluid)
        coefficients[fluid]["boil_start"] = fit_start(fluid, coefficients[fluid])
    constants = {
        "WATER_MOLAR_MASS": WATER_MOLAR_MASS,
        "WATER_CRITICAL": WATER_CRITICAL,
        "WATER_VAPOR": WATER_VAPOR,
        "BOIL_START_SHIFT": START_SHIFT,
    }
    return coefficients, constants, residuals
