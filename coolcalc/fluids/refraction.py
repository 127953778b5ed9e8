"""Refractive index of glycol and water in air, sodium light, and the strength read from it."""

import numpy as np

from ._coefficients import WATER_INDEX
from .fluid import WATER_FREEZE_K, check, check_frac_mass, fluid_named, horner, numeric, plain

SOURCES = {
    "ethylene glycol": ("crc-concentrative", "crc-constants", "schiebener-1990"),
    "propylene glycol": ("macbeth-1951", "gerke-2023", "schiebener-1990"),
    "glycerol": ("crc-concentrative", "gerke-2023", "crc-constants", "schiebener-1990"),
}

#: Temperatures covered: those of water's index. [K]
TEMP_RANGE_K = (273.15, 333.15)

_NEWTON_STEPS = 6

#: An index this little beyond an end passes: it is the rounding of a round trip. [-]
_SLACK = 1e-12


def _parts(fluid, temp_k):
    """Return the index of water, and the coefficients of the rise over w at a temperature."""
    here = fluid_named(fluid)
    temp_c = temp_k - WATER_FREEZE_K
    water = horner(WATER_INDEX, temp_c / 100.0)
    warm = temp_c - 20.0
    rise = list(here.index_rise)
    rise[0] = rise[0] + here.index_warm[0] * warm
    rise[1] = rise[1] + here.index_warm[1] * warm
    return water, rise


def _rise(rise, frac_mass):
    """Return the index above water's, and its slope, at a mass fraction."""
    value, slope = rise[-1], 0.0
    for coefficient in (*rise[-2::-1], 0.0):
        slope = slope * frac_mass + value
        value = value * frac_mass + coefficient
    return value, slope


def refractive_index_unchecked(fluid, frac_mass, temp_k):
    """Return `refractive_index` without its checks. [-]."""
    water, rise = _parts(fluid, temp_k)
    return water + _rise(rise, frac_mass)[0]


def frac_mass_from_refractive_index_unchecked(fluid, index, temp_k):
    """Return `frac_mass_from_refractive_index` without its checks. [-]."""
    water, rise = _parts(fluid, temp_k)
    above = index - water
    frac_mass = above / sum(rise)  # the chord from water to pure glycol
    for _ in range(_NEWTON_STEPS):
        value, slope = _rise(rise, frac_mass)
        frac_mass = frac_mass - (value - above) / slope
    return frac_mass


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
    (ethylene glycol; 0 to 60 mass % and pure) and 20 to 30 °C (propylene glycol, glycerol). How
    ethylene glycol moves with temperature follows from its density, by the law of Lorentz and
    Lorenz; the other two are carried on in a straight line. Water's own index is measured over
    the whole range.

    Examples
    --------
    >>> round(refractive_index("ethylene glycol", 0.5, 293.15), 3)
    1.383
    """
    fluid_named(fluid)
    frac_mass = numeric("glycol mass fraction", frac_mass)
    temp_k = numeric("temperature", temp_k)
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
    index = numeric("refractive index", index)
    temp_k = numeric("temperature", temp_k)
    check("temperature", temp_k, *TEMP_RANGE_K, "K", "the refractive index")
    low = refractive_index_unchecked(fluid, 0.0, temp_k)
    high = refractive_index_unchecked(fluid, 1.0, temp_k)
    check("refractive index", index, low - _SLACK, high + _SLACK, "nD", f"{fluid} and water")
    frac_mass = frac_mass_from_refractive_index_unchecked(fluid, index, temp_k)
    return plain(np.clip(frac_mass, 0.0, 1.0))
