"""The fluids by name, and the limits and checks that every property shares."""

from typing import NamedTuple

import numpy as np

from ..errors import NotNumericError, OutOfRangeError, UnknownChoiceError
from ._coefficients import COEFFICIENTS

#: Freezing point of water at 1 atm. [K]
WATER_FREEZE_K = 273.15

#: Mass fraction of glycol up to which laboratories agree on the freezing point. [-]
FRAC_MASS_SETTLED_MAX = 0.60

#: Highest temperature of the densities. [K]
DENSITY_TEMP_MAX_K = 373.15

#: A temperature this little below a limit passes: it is the rounding of a °C or a round trip. [K]
TEMP_SLACK_K = 1e-6


class Fluid(NamedTuple):
    """One glycol: the coefficients of its formulas with water, low powers first.

    Attributes
    ----------
    name : str
    freeze : tuple of float
        Freezing point depression over mass fraction, in powers of the mass fraction. [K]
    freeze_end : float
        Depression at ``FRAC_MASS_SETTLED_MAX``. [K]
    freeze_start : tuple of float
        Start of the inverse: mass fraction over scaled depression, in its powers. [-]
    melt_from : float
        Mass fraction from which crystals of the glycol are the first; 2, which no fraction
        reaches, where they are not known to form (and what follows has no meaning). [-]
    melt_k : float
        Melting point of the pure glycol. [K]
    melt, melt_end, melt_start : tuple of float, float, tuple of float
        As for ``freeze``: depression of the melting point by the mass fraction of water.
    glycol_volume : tuple of float
        Specific volume of the pure glycol, in powers of (t - 40 °C)/60 K. [m^3/kg]
    excess_volume : tuple of tuple of float
        Excess over w (1 - w); rows are powers of w, columns of (t - 40 °C)/60 K. [m^3/kg]
    index_rise, index_warm : tuple of float
        Refractive index above water's, over w: in powers of w, and per kelvin above 20 °C. [-]
    """

    name: str
    freeze: tuple
    freeze_end: float
    freeze_start: tuple
    melt_from: float
    melt_k: float
    melt: tuple
    melt_end: float
    melt_start: tuple
    glycol_volume: tuple
    excess_volume: tuple
    index_rise: tuple
    index_warm: tuple


#: Every fluid by name: dispatch, choices and error text all read this.
FLUIDS: dict[str, Fluid] = {name: Fluid(name=name, **parts) for name, parts in COEFFICIENTS.items()}


def fluid_named(name):
    """Return the fluid of that name, or raise with the list of names."""
    try:
        return FLUIDS[name]
    except (KeyError, TypeError):
        raise UnknownChoiceError("fluid", name, FLUIDS) from None


def numeric(what, value):
    """Return a float for a scalar, a float array for anything longer."""
    if type(value) is float:
        return value
    try:
        array = np.asarray(value, dtype=float)
    except (TypeError, ValueError):
        raise NotNumericError(what, value) from None
    return float(array) if array.ndim == 0 else array


def check(what, value, low, high, unit, source):
    """Raise for the first element that is not from low to high; NaN and inf never pass.

    `low` and `high` may be arrays that broadcast with `value`; the index counts flat from 0 in
    the broadcast shape.
    """
    if type(value) is type(low) is type(high) is float:
        if not low <= value <= high:
            raise OutOfRangeError(what, value, low, high, unit, source)
        return
    good = np.greater_equal(value, low) & np.less_equal(value, high)
    if not good.all():
        at = int(np.argmin(good))
        found, low, high = (np.broadcast_to(x, good.shape).flat[at] for x in (value, low, high))
        raise OutOfRangeError(what, found, low, high, unit, source, index=at if good.ndim else None)


def check_frac_mass(frac_mass, source):
    """Raise for the first mass fraction that is not from 0 to 1."""
    check("glycol mass fraction", frac_mass, 0.0, 1.0, "kg/kg", source)


def plain(value):
    """Return a Python float for a scalar result, the array otherwise."""
    return value if isinstance(value, np.ndarray) and value.ndim else float(value)


def horner(coefficients, x):
    """Return the polynomial with these coefficients, low powers first, at x (float or array)."""
    if len(coefficients) == 1:
        return coefficients[0]
    result = x * coefficients[-1]
    for coefficient in coefficients[-2:0:-1]:
        result += coefficient
        result *= x  # in place for an array: `result` is never the caller's
    result += coefficients[0]
    return result


def scaled_temp(temp_k):
    """Return (t - 40 °C)/60 K, the temperature variable of the fitted surfaces. [-]."""
    return (temp_k - (WATER_FREEZE_K + 40.0)) / 60.0


def surface(rows, frac_mass, tau):
    """Return a polynomial in two variables: rows are powers of the fraction, columns of tau.

    Horner in the fraction, each coefficient a polynomial in the temperature, which is most often
    one temperature for a whole array of fractions.
    """
    parts = [horner(row, tau) for row in rows]
    result = parts[-1]
    for part in parts[-2::-1]:
        result = result * frac_mass + part
    return result
