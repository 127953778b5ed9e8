"""Refractive index in air, sodium light: glycol and water, and the sugar scale of instruments."""

import numpy as np

from ._coefficients import SUCROSE_RISE, SUCROSE_START, WATER_INDEX
from .fluid import (
    WATER_FREEZE_K,
    check,
    check_frac_mass,
    fluid_named,
    horner,
    horner_inverse,
    in_chunks,
    numeric,
    numeric_pair,
    plain,
)

SOURCES = {
    "ethylene glycol": ("crc-concentrative", "crc-constants", "schiebener-1990"),
    "propylene glycol": ("macbeth-1951", "gerke-2023", "schiebener-1990"),
    "glycerol": ("crc-concentrative", "gerke-2023", "crc-constants", "schiebener-1990"),
}
BRIX_SOURCES = ("oiv-as2-02", "crc-sucrose", "crc-concentrative", "schiebener-1990")

#: Temperatures covered: those of water's index. [K]
TEMP_RANGE_K = (273.15, 333.15)

#: Highest mass per cent of sucrose with a published row. [°Brix]
BRIX_MAX = 84.0

#: An index this little beyond an end passes: it is the rounding of a round trip. [-]
_SLACK = 1e-12


def _parts(fluid, temp_k):
    """Return the index of water, and the coefficients of the rise over w at a temperature."""
    here = fluid_named(fluid)
    water = horner(WATER_INDEX, (temp_k - WATER_FREEZE_K) / 100.0)
    warm = temp_k - (WATER_FREEZE_K + 20.0)
    rise = list(here.index_rise)
    for i, (per_kelvin, per_square) in enumerate(zip(*here.index_drift, strict=True)):
        rise[i] = rise[i] + warm * (per_kelvin + warm * per_square)
    return water, rise


def _alike(value, temp_k):
    """Return both in one shape where the temperature is an array, as Horner in place needs."""
    return np.broadcast_arrays(value, temp_k) if np.ndim(temp_k) else (value, temp_k)


def refractive_index_unchecked(fluid, frac_mass, temp_k):
    """Return `refractive_index` without its checks. [-]."""

    def formula(frac_mass, temp_k):
        frac_mass, temp_k = _alike(frac_mass, temp_k)
        water, rise = _parts(fluid, temp_k)
        index = horner(rise, frac_mass)
        index *= frac_mass
        index += water
        return index

    return in_chunks(formula, frac_mass, temp_k)


def frac_mass_from_refractive_index_unchecked(fluid, index, temp_k):
    """Return `frac_mass_from_refractive_index` without its checks. [-]."""

    def formula(index, temp_k):
        index, temp_k = _alike(index, temp_k)
        water, rise = _parts(fluid, temp_k)
        return horner_inverse(rise, fluid_named(fluid).index_start, index - water, sum(rise))

    return in_chunks(formula, index, temp_k)


def refractive_index(fluid, frac_mass, temp_k):
    """Return the refractive index against air, for the yellow sodium line (589 nm).

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to 1. [-]
    temp_k : float or array
        Temperature, within ``refraction.TEMP_RANGE_K``. Broadcasts with `frac_mass`. [K]

    Returns
    -------
    float or array
        Refractive index. [-]

    Raises
    ------
    OutOfRangeError
        Outside the ranges above; NaN and inf too.

    Notes
    -----
    Sources: ``refraction.SOURCES``; check values in ``data/published/``. The rows cover 20 °C
    (ethylene glycol; 0 to 60 mass % and pure) and 20 to 30 °C (propylene glycol, glycerol).
    Beyond them the index moves with the density, by the law of Lorentz and Lorenz, of which the
    rows at 20 to 30 °C show about 0.8; ethylene glycol, with no row but at 20 °C, is given the
    mean of the other two. Water's own index is measured over the whole range. No published mix
    below 20 °C or above 30 °C was found: there the drift is good to about 0.3e-4 per kelvin.

    Examples
    --------
    >>> round(refractive_index("ethylene glycol", 0.5, 293.15), 3)
    1.383
    """
    fluid_named(fluid)
    frac_mass, temp_k = numeric_pair("glycol mass fraction", frac_mass, "temperature", temp_k)
    check_frac_mass(frac_mass, "mass fractions")
    check("temperature", temp_k, *TEMP_RANGE_K, "K", "the refractive index")
    return refractive_index_unchecked(fluid, frac_mass, temp_k)


def frac_mass_from_refractive_index(fluid, index, temp_k):
    """Return the mass fraction of glycol from a refractive index.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    index : float or array
        Refractive index against air, 589 nm: from water's to the pure glycol's at `temp_k`. [-]
    temp_k : float or array
        Temperature of the sample, within ``refraction.TEMP_RANGE_K``. [K]

    Returns
    -------
    float or array
        Mass of glycol over mass of glycol and water. [-]

    Raises
    ------
    OutOfRangeError
        Outside the ranges above; NaN and inf too.

    Notes
    -----
    The inverse of `refractive_index`, to 1e-9. Additives raise an index too: what a reading of a
    product means is for the product.

    Examples
    --------
    >>> round(frac_mass_from_refractive_index("propylene glycol", 1.38, 293.15), 2)
    0.42
    """
    fluid_named(fluid)
    index, temp_k = numeric_pair("refractive index", index, "temperature", temp_k)
    check("temperature", temp_k, *TEMP_RANGE_K, "K", "the refractive index")
    low = refractive_index_unchecked(fluid, 0.0, temp_k)
    high = refractive_index_unchecked(fluid, 1.0, temp_k)
    check("refractive index", index, low - _SLACK, high + _SLACK, "nD", f"{fluid} and water")
    frac_mass = frac_mass_from_refractive_index_unchecked(fluid, index, temp_k)
    return plain(np.clip(frac_mass, 0.0, 1.0))


def _sucrose_rise(frac_mass):
    return horner(SUCROSE_RISE, frac_mass) * frac_mass


#: Index of water at 20 °C, and of the strongest solution: the ends of the scale. [-]
_WATER_20 = horner(WATER_INDEX, 0.2)
BRIX_INDEX_RANGE = (_WATER_20, _WATER_20 + _sucrose_rise(BRIX_MAX / 100.0))


def refractive_index_from_brix_unchecked(brix):
    """Return `refractive_index_from_brix` without its checks. [-]."""
    return _WATER_20 + _sucrose_rise(brix / 100.0)


def brix_from_refractive_index_unchecked(index):
    """Return `brix_from_refractive_index` without its checks. [°Brix]."""
    # In units of the strongest solution, as the start of the inverse is.
    rise = [c * (BRIX_MAX / 100.0) ** (i + 1) for i, c in enumerate(SUCROSE_RISE)]
    start, end = SUCROSE_START, sum(rise)
    return in_chunks(lambda n: BRIX_MAX * horner_inverse(rise, start, n - _WATER_20, end), index)


def refractive_index_from_brix(brix):
    """Return the refractive index that a Brix scale reads as this, at 20 °C.

    Parameters
    ----------
    brix : float or array
        Mass of sucrose over mass of sucrose and water, in per cent, 0 to ``BRIX_MAX``. [°Brix]

    Returns
    -------
    float or array
        Refractive index against air, 589 nm, of that sucrose solution at 20 °C. [-]

    Raises
    ------
    OutOfRangeError
        Outside 0 to ``BRIX_MAX``; NaN and inf too.

    Notes
    -----
    Sources: ``refraction.BRIX_SOURCES``. A polynomial fitted to the printed tables: within their
    last digit (1e-5) from 10 to 30 °Brix, within 1e-4 elsewhere. The polynomials for the same
    scale that are passed around are 0.02 °Brix off those tables.

    A scale is laid out at 20 °C. An instrument that compensates for temperature does so for
    sugar, which drifts less than glycol; the published tables of that correction are not part
    of this. For coolant, take an uncompensated reading through this function to an index, and
    that with the sample's temperature to `frac_mass_from_refractive_index`.

    Examples
    --------
    >>> round(refractive_index_from_brix(30.0), 5)
    1.38115
    """
    brix = numeric("Brix", brix)
    check("Brix", brix, 0.0, BRIX_MAX, "°Brix", "the sucrose tables")
    return refractive_index_from_brix_unchecked(brix)


def brix_from_refractive_index(index):
    """Return what a Brix scale reads, laid out for sucrose at 20 °C.

    Parameters
    ----------
    index : float or array
        Refractive index against air, 589 nm, within ``BRIX_INDEX_RANGE``. [-]

    Returns
    -------
    float or array
        Mass of sucrose over mass of sucrose and water, in per cent. [°Brix]

    Raises
    ------
    OutOfRangeError
        Outside the range above; NaN and inf too.

    Notes
    -----
    The inverse of `refractive_index_from_brix`, to 1e-9.

    Examples
    --------
    >>> round(brix_from_refractive_index(refractive_index("ethylene glycol", 0.5, 293.15)), 1)
    31.0
    """
    index = numeric("refractive index", index)
    low, high = BRIX_INDEX_RANGE
    check("refractive index", index, low - _SLACK, high + _SLACK, "nD", "the sucrose tables")
    return plain(np.clip(brix_from_refractive_index_unchecked(index), 0.0, BRIX_MAX))
