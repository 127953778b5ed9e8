"""Vapour pressure of water and of glycol with water, and the boiling point, its inverse.

One formula from pure water to pure glycol: each liquid's own vapour pressure, times its mole
fraction, times its activity coefficient. Every temperature enters as theta = 373.15 K / T - 1,
in which the logarithm of a vapour pressure is nearly a straight line.
"""

import numpy as np

from ..errors import HOTTER_THAN_COVERED
from ._coefficients import BOIL_START_SHIFT, WATER_CRITICAL, WATER_MOLAR_MASS, WATER_VAPOR
from .fluid import (
    TEMP_SLACK_K,
    WATER_FREEZE_K,
    check,
    check_frac_mass,
    fluid_named,
    horner,
    in_chunks,
    numeric,
    numeric_pair,
    plain,
    surface,
)
from .freezing import check_covered

SOURCES = {
    "ethylene glycol": (
        *("wagner-1993", "zhang-2016", "fujita-1989", "enthalpy-2009", "ice-line"),
        *("trc-vapour", "perry-8-vapour", "landolt-20", "crc-vaporization"),
        *("melinder-2010", "zabransky-2001", "perry-8-transport", "iapws-transport"),
    ),
    "propylene glycol": (
        *("wagner-1993", "enthalpy-2005", "ice-line"),
        *("trc-vapour", "perry-8-vapour", "landolt-20", "crc-constants"),
        *("melinder-2010", "zabransky-2001", "perry-8-transport", "iapws-transport"),
    ),
    "glycerol": (
        *("wagner-1993", "glycerol-tx", "zhang-2022"),
        *("landolt-20", "vdi-vapour", "crc-constants"),
    ),
}

#: Highest temperature of the vapour pressures, and of a boiling point. [K]
BOIL_TEMP_MAX_K = 473.15

#: Pressures for which a boiling point is given. [Pa]
PRESSURE_RANGE_PA = (1.0e4, 5.0e5)

#: Bands at one atmosphere, judged from what each source says of a fit that has not seen it: mass
#: fractions, and by how many kelvin a mix may boil lower and higher. Propylene glycol: no boiling
#: point of its mixes was read; the high side is the wider one and holds an ideal mix.
_BANDS = {
    "ethylene glycol": (
        (0.0, 0.3, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 1.0),
        (0.05, 0.3, 0.7, 0.9, 1.4, 2.0, 3.5, 4.0, 0.5),
        (0.05, 0.6, 0.8, 0.9, 1.4, 2.0, 3.5, 4.0, 0.5),
    ),
    "propylene glycol": (
        (0.0, 0.3, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 1.0),
        (0.05, 0.3, 0.8, 1.0, 1.2, 1.4, 2.0, 2.3, 1.4),
        (0.05, 0.7, 1.7, 2.6, 2.7, 2.8, 3.5, 4.0, 1.4),
    ),
    "glycerol": (
        (0.0, 0.2, 0.5, 0.7, 0.8, 0.9, 0.95, 0.98, 1.0),
        (0.05, 0.4, 0.7, 0.9, 1.2, 2.5, 3.5, 5.0, 1.0),
        (0.05, 0.4, 0.7, 0.9, 1.2, 2.5, 3.5, 5.0, 1.0),
    ),
}

_UNIT_K = 373.15  # of theta
_LOG_ATMOSPHERE = np.log(101325.0)
_CRITICAL_K, _CRITICAL_PA = WATER_CRITICAL
_NEWTON_STEPS = 2


def _water_log(temp_k, slope=False):
    """Return ln(p/pc) of water, after Wagner and Pruss; with `slope` its slope in theta too.

    Written in place, since this is where the time goes: `+=` on a float makes a new one.
    """
    a, b, c, d, e, f = WATER_VAPOR
    tau = temp_k * (-1.0 / _CRITICAL_K)
    tau += 1.0
    root = np.sqrt(tau)
    square = tau * tau
    last = square * square
    last *= square
    last *= root  # tau^6.5
    value = _sum(_sum(tau * e, root * d, c) * square, last * f, root * b, a)
    value *= tau
    value *= _CRITICAL_K
    value /= temp_k
    if not slope:
        return value
    rise = _sum(_sum(tau * (4 * e), root * (3.5 * d), 3 * c) * square, last * (7.5 * f))
    rise = _sum(rise, root * (1.5 * b), value, a)
    rise *= temp_k
    rise *= 1.0 / _UNIT_K
    return value, rise


def _sum(total, *parts):
    """Return the sum, adding to `total` in place where it is an array."""
    for part in parts:
        total += part
    return total


def mole_fractions(fluid, frac_mass):
    """Return the mole fractions of water and glycol. [-]."""
    here = fluid_named(fluid)
    glycol = frac_mass * (1.0 / here.molar_mass)
    total = frac_mass * (1.0 / here.molar_mass - 1.0 / WATER_MOLAR_MASS)
    total += 1.0 / WATER_MOLAR_MASS
    glycol /= total
    return 1.0 - glycol, glycol


def _excess(terms, frac_mass):
    """Return C(w) and C'(w) of the excess Gibbs energy, G/RT = x (1 - x) C(w)."""
    return horner(terms, frac_mass), horner(_derivative(terms), frac_mass)


def _activity(excess, frac_mass, y, x):
    """Return the logarithms of both activity coefficients, water first.

    Of water x (x C - w (1 - w) C'), of glycol y (y C + w (1 - w) C'). `excess` is used up.
    """
    level, rise = excess
    rise *= frac_mass
    rise *= 1.0 - frac_mass
    water = x * level
    water -= rise
    water *= x
    level *= y
    level += rise
    level *= y
    return water, level


def _excess_rows(here):
    """Return the coefficients of C: rows are powers of theta, columns of the mass fraction."""
    return (here.activity, here.activity_drift, *here.activity_curve)


def _excess_at(here, frac_mass, theta):
    """Return C and C' at a temperature."""
    rows = _excess_rows(here)
    slopes = [_derivative(row) for row in rows]
    return surface(rows, theta, frac_mass), surface(slopes, theta, frac_mass)


def _derivative(terms):
    return tuple(i * c for i, c in enumerate(terms) if i)


def _added(one, other):
    """Return the coefficients of the sum of two polynomials."""
    short, long = sorted((one, other), key=len)
    return tuple(map(sum, zip(short, long, strict=False))) + long[len(short) :]


def activity_coefficients_unchecked(fluid, frac_mass, temp_k):
    """Return the activity coefficients of water and of glycol (pure liquids: 1). [-]."""
    here = fluid_named(fluid)
    y, x = mole_fractions(fluid, frac_mass)
    logs = _activity(_excess_at(here, frac_mass, _UNIT_K / temp_k - 1.0), frac_mass, y, x)
    return tuple(np.exp(log) for log in logs)


def water_vapor_pressure_pa_unchecked(temp_k):
    """Return `water_vapor_pressure_pa` without its checks. [Pa]."""
    return in_chunks(lambda temp: _CRITICAL_PA * np.exp(_water_log(temp)), temp_k)


def vapor_pressure_pa_unchecked(fluid, frac_mass, temp_k):
    """Return `vapor_pressure_pa` without its checks. [Pa]."""
    here = fluid_named(fluid)

    def formula(frac_mass, temp_k):
        theta = _UNIT_K / temp_k - 1.0
        y, x = mole_fractions(fluid, frac_mass)
        water, glycol = _activity(_excess_at(here, frac_mass, theta), frac_mass, y, x)
        water = np.exp(_sum(water, _water_log(temp_k)))
        water *= y
        water *= _CRITICAL_PA
        glycol = np.exp(_sum(glycol, horner(here.glycol_vapor, theta)))
        glycol *= x
        return water + glycol

    return in_chunks(formula, frac_mass, temp_k)


def boil_temp_k_unchecked(fluid, frac_mass, pressure_pa):
    """Return `boil_temp_k` without its checks. [K].

    A polynomial starts within 0.6 K; each Newton step, on the logarithm of the pressure
    against theta, more than squares the error.
    """
    here = fluid_named(fluid)

    def formula(frac_mass, pressure_pa):
        y, x = mole_fractions(fluid, frac_mass)
        target = np.log(pressure_pa)
        log = target - _LOG_ATMOSPHERE
        theta = horner([horner(row, log) for row in here.boil_start], np.log(y + BOIL_START_SHIFT))
        rows = [_excess(row, frac_mass) for row in _excess_rows(here)]
        water_of, glycol_of = zip(*(_activity(row, frac_mass, y, x) for row in rows), strict=True)
        glycol_of = _added(here.glycol_vapor, glycol_of)
        water_slope, glycol_slope = _derivative(water_of), _derivative(glycol_of)
        for _ in range(_NEWTON_STEPS):
            water, rise = _water_log(_UNIT_K / (theta + 1.0), slope=True)
            water = np.exp(_sum(water, horner(water_of, theta)))
            water *= y * _CRITICAL_PA
            glycol = np.exp(horner(glycol_of, theta))
            glycol *= x
            rise = _sum(rise, horner(water_slope, theta))
            rise *= water
            rise += horner(glycol_slope, theta) * glycol
            water += glycol
            step = (target - np.log(water)) * water
            step /= rise
            theta = theta + step
        return _UNIT_K / (theta + 1.0)

    return in_chunks(formula, frac_mass, pressure_pa)


def water_vapor_pressure_pa(temp_k):
    """Return the saturation pressure of water.

    Parameters
    ----------
    temp_k : float or array
        Temperature, 273.15 to ``BOIL_TEMP_MAX_K``. [K]

    Returns
    -------
    float or array
        Vapour pressure, absolute. [Pa]

    Raises
    ------
    OutOfRangeError
        Outside the range above; NaN and inf too.

    Notes
    -----
    The equation of Wagner and Pruss 1993 with its published coefficients (IAPWS SR1-86(1992)),
    uncertain by 0.03 % or less here. Source key: ``wagner-1993``.

    Examples
    --------
    >>> round(water_vapor_pressure_pa(373.1243), 1)
    101325.0
    """
    temp_k = numeric("temperature", temp_k)
    low = WATER_FREEZE_K - TEMP_SLACK_K
    check("temperature", temp_k, low, BOIL_TEMP_MAX_K, "K", "the vapour pressure of water")
    return plain(water_vapor_pressure_pa_unchecked(temp_k))


def vapor_pressure_pa(fluid, frac_mass, temp_k):
    """Return the pressure of the vapour over a mix, which is the pressure at which it boils.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to 1. [-]
    temp_k : float or array
        Temperature, from where the mix may be liquid (`covered_from_k`) to
        ``BOIL_TEMP_MAX_K``. Broadcasts with `frac_mass`. [K]

    Returns
    -------
    float or array
        Vapour pressure, absolute. [Pa]

    Raises
    ------
    OutOfRangeError
        Outside the ranges above; NaN and inf too.
    UnknownChoiceError
        For another fluid; the message lists the choices.

    Notes
    -----
    Sources: ``boiling.SOURCES``; check values in ``data/published/vapour.csv``. Water alone is
    Wagner and Pruss 1993 (carried below 0 °C, where it lies within 1 % of supercooled water down
    to -40 °C), the pure glycol its own curve. Activity coefficients: ethylene glycol from boiling
    points at 101 kPa, vapour pressures from -10 to 60 °C, the ice line and the heat of mixing, at
    25 °C and as the excess heat capacity from 0 to 100 °C moves it; glycerol from boiling points
    at 14 kPa and water activities from 0 to 100 °C; propylene glycol from the ice line and the
    heat of mixing, likewise moved, only: no boiling point of its pure mixes was read.
    Additives are not part of this: salts lower the pressure a little. Pure glycol below 60 °C is
    good to a third only (it is a hundredth of the water's or less in most mixes).

    Examples
    --------
    >>> round(vapor_pressure_pa("ethylene glycol", 0.5, 373.15) / 1000, 1)
    78.8
    """
    fluid_named(fluid)
    frac_mass, temp_k = numeric_pair("glycol mass fraction", frac_mass, "temperature", temp_k)
    check_frac_mass(frac_mass, "mass fractions")
    check_covered(fluid, frac_mass, temp_k, BOIL_TEMP_MAX_K)
    return plain(vapor_pressure_pa_unchecked(fluid, frac_mass, temp_k))


def boil_temp_k(fluid, frac_mass, pressure_pa):
    """Return the boiling point: where the vapour pressure of the mix is the pressure on it.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to 1. [-]
    pressure_pa : float or array
        Pressure, absolute (gauge and the air's), within ``boiling.PRESSURE_RANGE_PA``.
        Broadcasts with `frac_mass`. [Pa]

    Returns
    -------
    float or array
        Boiling point: first bubbles. [K]

    Raises
    ------
    OutOfRangeError
        Outside the ranges above (NaN and inf too), and where a mix boils hotter than
        ``BOIL_TEMP_MAX_K``: pure glycerol does, at 289 °C under one atmosphere.
    UnknownChoiceError
        For another fluid; the message lists the choices.

    Notes
    -----
    The inverse of `vapor_pressure_pa`, to 1e-9 K. How far to trust it: `boil_bound_k`. An ideal
    mix (Raoult's law) of propylene glycol would boil 1.1 K higher at 50 mass %, as the printed
    charts of antifreeze do; its ice line and heat of mixing speak against it.

    Examples
    --------
    >>> round(boil_temp_k("ethylene glycol", 0.5, 101325.0) - 273.15, 1)
    107.1
    """
    fluid_named(fluid)
    frac_mass, pressure_pa = numeric_pair(
        "glycol mass fraction", frac_mass, "pressure", pressure_pa
    )
    check_frac_mass(frac_mass, "mass fractions")
    source = f"{fluid} and water"
    check("pressure", pressure_pa, *PRESSURE_RANGE_PA, "Pa", source)
    temp_k = plain(boil_temp_k_unchecked(fluid, frac_mass, pressure_pa))
    high = BOIL_TEMP_MAX_K + TEMP_SLACK_K
    check("boiling point", temp_k, WATER_FREEZE_K, high, "K", source, HOTTER_THAN_COVERED)
    return temp_k


def boil_bound_k(fluid, frac_mass, pressure_pa):
    """Return the bounds of the boiling point.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to 1. [-]
    pressure_pa : float or array
        Pressure, absolute, as for `boil_temp_k`. [Pa]

    Returns
    -------
    low, high : float or array
        The bounds, at 95 %. [K]

    Raises
    ------
    OutOfRangeError
        As `boil_temp_k`.

    Notes
    -----
    Judged from what each source says of a fit that has not seen it, at one atmosphere, and wider
    away from it: half as much again at 275 kPa and at 37 kPa. Without additives, which raise a
    boiling point.

    Examples
    --------
    >>> low, high = boil_bound_k("propylene glycol", 0.5, 101325.0)
    >>> round(low - 273.15, 1), round(high - 273.15, 1)
    (103.9, 106.4)
    """
    temp_k = boil_temp_k(fluid, frac_mass, pressure_pa)
    below, above = boil_widths_k(fluid, frac_mass, pressure_pa)
    return plain(temp_k - below), plain(temp_k + above)


def boil_widths_k(fluid, frac_mass, pressure_pa):
    """Return by how much a mix may boil lower and higher: the widths of `boil_bound_k`. [K]."""
    nodes, below, above = _BANDS[fluid]
    wider = 1.0 + 0.5 * np.abs(np.log(pressure_pa) - _LOG_ATMOSPHERE)
    return tuple(wider * np.interp(frac_mass, nodes, side) for side in (below, above))
