"""The fluids by name, and the limits and checks that every property shares."""

from typing import NamedTuple

import numpy as np

from ..errors import NotNumericError, OutOfRangeError, ShapesError, UnknownChoiceError
from ._coefficients import COEFFICIENTS

#: Freezing point of water at 1 atm. [K]
WATER_FREEZE_K = 273.15

#: Mass fraction of glycol up to which laboratories agree on the freezing point. [-]
FRAC_MASS_SETTLED_MAX = 0.60

#: Lowest and highest temperature of the properties, wherever a mix is liquid. [K]
TEMP_MIN_K, TEMP_MAX_K = 213.15, 403.15

#: Arrays longer than two of these are taken in pieces that stay in the processor's cache.
CHUNK = 8192

#: A mass fraction this little beyond a limit passes: it is the rounding of a float32. [-]
FRAC_SLACK = 1e-7

#: A temperature this little below a limit passes: it is the rounding of a °C or a round trip. [K]
TEMP_SLACK_K = 1e-6


_NEWTON_STEPS = 3  # of `horner_inverse`


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
    cross_volume : tuple of tuple of float
        Volume that glycol and water share, the factor of w (1 - w); rows are powers of 1 - 2 w,
        columns of (t - 40 °C)/60 K. [m^3/kg]
    index_rise : tuple of float
        Refractive index above water's at 20 °C, over w, in powers of w. [-]
    index_drift : tuple of tuple of float
        What each kelvin above 20 °C, and each kelvin squared, adds to it. [1/K, 1/K^2]
    index_start : tuple of float
        Start of the inverse: w over u, in powers of u, the rise over its value at w = 1. [-]
    heat_capacity_glycol, conductivity_glycol, viscosity_glycol : tuple of float
        Pure glycol, in powers of (t - 40 °C)/60 K; the logarithm of the viscosity in powers of the
        Vogel variable. [J/(kg K)], [W/(m K)], [ln(Pa s)]
    heat_capacity_excess, conductivity_excess, viscosity_excess : tuple of tuple of float
        Excess over w (1 - w); rows are powers of w, columns of the same variable. [the same units]
    molar_mass : float
        Of the glycol. [g/mol]
    glycol_vapor : tuple of float
        Logarithm of the pure glycol's vapour pressure in Pa, in powers of 373.15 K/T - 1. [-]
    activity, activity_drift : tuple of float
        Excess Gibbs energy over R T x (1 - x), in powers of w; its part that goes with
        373.15 K/T - 1, likewise. [-]
    activity_curve : tuple of tuple of float
        Its parts that go with the square and the cube of 373.15 K/T - 1, likewise; or none. [-]
    boil_start : tuple of tuple of float
        Start of the boiling point, 373.15 K/T - 1: rows are powers of the logarithm of water's
        mole fraction (shifted), columns of that of the pressure in atmospheres. [-]
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
    cross_volume: tuple
    index_rise: tuple
    index_drift: tuple
    index_start: tuple
    heat_capacity_glycol: tuple
    heat_capacity_excess: tuple
    conductivity_glycol: tuple
    conductivity_excess: tuple
    viscosity_glycol: tuple
    viscosity_excess: tuple
    molar_mass: float
    glycol_vapor: tuple
    activity: tuple
    activity_drift: tuple
    activity_curve: tuple
    boil_start: tuple


#: Every fluid by name: dispatch, choices and error text all read this.
FLUIDS: dict[str, Fluid] = {name: Fluid(name=name, **parts) for name, parts in COEFFICIENTS.items()}


def fluid_named(name):
    """Return the fluid of that name, or raise with the list of names."""
    try:
        return FLUIDS[name]
    except (KeyError, TypeError):
        raise UnknownChoiceError("fluid", name, FLUIDS) from None


def numeric(what, value):
    """Return a float for a scalar, a float array for anything longer.

    Numbers only: text, truth values, quantities and masked elements are refused, not converted.
    """
    if type(value) is float:
        return value
    try:
        array = np.asarray(value) if _is_plain(value) else None
    except (TypeError, ValueError):  # of unequal lengths
        array = None
    if array is None or not (array.dtype.kind in "iuf" or array.size == 0):
        raise NotNumericError(what, value)
    array = array.astype(float, copy=False)
    return float(array) if array.ndim == 0 else array


def _is_plain(value):
    """Say whether nothing in a value is a quantity or masked, or in a list a truth value."""
    if isinstance(value, list | tuple):
        return all(_is_plain(each) and not isinstance(each, bool | np.bool_) for each in value)
    return not hasattr(value, "magnitude") and not np.ma.is_masked(value)


def numeric_pair(what, value, other_what, other):
    """Return both as `numeric` does, of shapes that go together."""
    value, other = numeric(what, value), numeric(other_what, other)
    shapes = np.shape(value), np.shape(other)
    if shapes[0] != shapes[1]:
        try:
            np.broadcast_shapes(*shapes)
        except ValueError:
            raise ShapesError(what, shapes[0], other_what, shapes[1]) from None
    return value, other


def check(what, value, low, high, unit, source, advice=""):
    """Raise for the first element that is not from low to high; NaN and inf never pass.

    `low` and `high` may be arrays that broadcast with `value`; the index counts flat from 0 in
    the broadcast shape.
    """
    if type(value) is type(low) is type(high) is float:
        if not low <= value <= high:
            raise OutOfRangeError(what, value, low, high, unit, source, advice=advice)
        return
    good = np.greater_equal(value, low)
    good &= np.less_equal(value, high)
    if not good.all():
        at = int(np.argmin(good))
        found, low, high = (np.broadcast_to(x, good.shape).flat[at] for x in (value, low, high))
        index = at if good.ndim else None
        raise OutOfRangeError(what, found, low, high, unit, source, index, advice)


def check_frac_mass(frac_mass, source):
    """Raise for the first mass fraction that is not from 0 to 1."""
    check("glycol mass fraction", frac_mass, 0.0, 1.0, "kg/kg", source)


def plain(value):
    """Return a Python float for a scalar result, the array otherwise."""
    return value if isinstance(value, np.ndarray) and value.ndim else float(value)


def in_chunks(function, *values):
    """Return function(*values) for floats or arrays that broadcast, piece by piece when long.

    NumPy writes every step of a formula to memory; in pieces of ``CHUNK`` elements the steps of
    a long array stay in the cache, which is two to three times as fast.
    """
    size = max(np.size(value) for value in values)
    if size <= 2 * CHUNK:
        return function(*values)
    shape = np.broadcast_shapes(*(np.shape(value) for value in values))
    flat = [
        np.broadcast_to(value, shape).reshape(-1) if np.ndim(value) else value for value in values
    ]
    result = np.empty(flat_size := int(np.prod(shape)))
    for start in range(0, flat_size, CHUNK):
        part = slice(start, start + CHUNK)
        result[part] = function(*(v[part] if np.ndim(v) else v for v in flat))
    return result.reshape(shape)


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


def horner_inverse(rise, start, above, end):
    """Return x, 0 to 1, where x times the polynomial `rise` is `above`; `end` is that at x = 1.

    The polynomial `start`, in above/end, begins within 1e-3; each Newton step squares the error.
    """
    scaled = above / end
    x = scaled * horner(start, scaled)
    slope = tuple((i + 1) * c for i, c in enumerate(rise))
    for _ in range(_NEWTON_STEPS):
        step = horner(rise, x)
        step *= x
        step -= above
        step /= horner(slope, x)
        x = x - step
    return x


def scaled_temp(temp_k):
    """Return (t - 40 °C)/60 K, the temperature variable of the fitted surfaces. [-]."""
    return (temp_k - (WATER_FREEZE_K + 40.0)) / 60.0


def surface(rows, x, tau):
    """Return a polynomial in two variables: rows are powers of x (a fraction), columns of tau.

    Horner in x, each coefficient a polynomial in the temperature, which is most often one
    temperature for a whole array of fractions.
    """
    parts = [horner(row, tau) for row in rows]
    result = parts[-1]
    for part in parts[-2::-1]:
        result = result * x + part
    return result


class Width(NamedTuple):
    """Half-width over the mass fraction, times a factor over the temperature. [unit, -].

    Linear between the nodes, constant beyond them.
    """

    fracs: tuple
    halves: tuple
    temps_c: tuple = (20.0,)
    factors: tuple = (1.0,)
    #: At the last fraction, the pure glycol, where it does not rise and fall as the mixes do.
    pure: tuple = ()

    def at(self, frac_mass, temp_k=293.15):
        """Return the half-width."""
        temp_c = temp_k - WATER_FREEZE_K
        half = np.interp(frac_mass, self.fracs, self.halves)
        half = half * np.interp(temp_c, self.temps_c, self.factors)
        if not self.pure:
            return half
        share = np.interp(frac_mass, self.fracs[-2:], (0.0, 1.0))
        return half * (1.0 - share) + share * np.interp(temp_c, self.temps_c, self.pure)
